//! Triangles with normals: smooth within a face of the body, sharp at its edges.

use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};

use crate::bought::Balls;
use crate::geometry::{Mesh, norm, normal};

/// Rings and sectors of a ball: it is small.
const RINGS: u32 = 8;
const SECTORS: u32 = 12;

/// What a viewer draws.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Surface {
    /// \[mm\]
    pub positions: Vec<[f32; 3]>,
    /// Of length one.
    pub normals: Vec<[f32; 3]>,
    pub triangles: Vec<[u32; 3]>,
}

impl Surface {
    /// A closed mesh's: each vertex once per face it lies on, its normal the mean of that face's triangles by area.
    pub fn of(mesh: &Mesh) -> Surface {
        let mut index_of: BTreeMap<(u32, u32), u32> = BTreeMap::new();
        let mut sums: Vec<[f64; 3]> = Vec::new();
        let mut surface = Surface::default();
        for (triangle, &face) in mesh.triangles.iter().zip(&mesh.face_of) {
            let corners = triangle.map(|index| mesh.vertices[index as usize]);
            // Twice the area long.
            let across = normal(corners);
            let renamed = triangle.map(|index| {
                *index_of.entry((face, index)).or_insert_with(|| {
                    surface.positions.push(mesh.vertices[index as usize].map(|x| x as f32));
                    sums.push([0.0; 3]);
                    (sums.len() - 1) as u32
                })
            });
            for index in renamed {
                for (sum, part) in sums[index as usize].iter_mut().zip(across) {
                    *sum += part;
                }
            }
            surface.triangles.push(renamed);
        }
        surface.normals = sums.into_iter().map(unit).collect();
        surface
    }

    /// Adds the balls of a bearing.
    pub fn add_balls(&mut self, balls: &Balls) {
        for k in 0..balls.count {
            let angle = TAU * f64::from(k) / f64::from(balls.count.max(1));
            let radius = balls.circle / 2.0;
            self.add_ball(
                [radius * libm::cos(angle), radius * libm::sin(angle), balls.z],
                balls.diameter / 2.0,
            );
        }
    }

    fn add_ball(&mut self, centre: [f64; 3], radius: f64) {
        let first = self.positions.len() as u32;
        for ring in 0..=RINGS {
            let polar = PI * f64::from(ring) / f64::from(RINGS);
            for sector in 0..SECTORS {
                let around = TAU * f64::from(sector) / f64::from(SECTORS);
                let (sine, cosine) = (libm::sin(polar), libm::cos(polar));
                let out = [sine * libm::cos(around), sine * libm::sin(around), cosine];
                self.normals.push(unit(out));
                self.positions.push(std::array::from_fn(|axis| (centre[axis] + radius * out[axis]) as f32));
            }
        }
        let at = |ring: u32, sector: u32| first + ring * SECTORS + sector % SECTORS;
        for ring in 0..RINGS {
            for sector in 0..SECTORS {
                let [a, b] = [at(ring, sector), at(ring, sector + 1)];
                let [c, d] = [at(ring + 1, sector), at(ring + 1, sector + 1)];
                // At the poles one of the two has no area.
                if ring + 1 < RINGS {
                    self.triangles.push([a, c, d]);
                }
                if ring > 0 {
                    self.triangles.push([a, d, b]);
                }
            }
        }
    }
}

/// Of length one in 32 bits; up for a vector without a direction.
fn unit(vector: [f64; 3]) -> [f32; 3] {
    let length = norm(vector);
    if length > 0.0 { vector.map(|x| (x / length) as f32) } else { [0.0, 0.0, 1.0] }
}
