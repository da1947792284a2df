//! Mass of a print: walls, skins and infill by the areas of inward offsets, not volume times a factor.
//!
//! At every height the section is split into what prints solid (perimeters, and whatever lies within the skins of a
//! face that points up or down) and the core, which prints at the infill's share. Toothed outlines are taken by their
//! root circles for the core, so that teeth count as solid, as they should be printed.
//! Not covered: seams, skirts, purge, over-extrusion.

use crate::design::{PartSettings, Printer};
use crate::geometry::{Loop, Point, Region, ShapeError, Slab, Stack};

/// What a part weighs as printed, and how much of its volume is plastic.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintMass {
    /// \[kg\]
    pub mass: f64,
    /// Plastic extruded \[mm3\].
    pub plastic: f64,
    /// Plastic by height, bottom to top; together all of it.
    pub bands: Vec<Band>,
}

/// Heights between which every layer takes the same plastic.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    pub z: [f64; 2],
    /// Plastic per height \[mm2\].
    pub area: f64,
}

/// A core smaller than this is filled by the perimeters themselves \[mm2\].
const LEAST_CORE: f64 = 0.5;

/// Print mass of `stack`, whose volume is known \[mm3\], with these settings.
pub fn print_mass(
    stack: &Stack,
    volume: f64,
    settings: &PartSettings,
    printer: &Printer,
) -> Result<PrintMass, ShapeError> {
    let mut bands = bands(stack, settings, printer)?;
    let core: f64 = bands.iter().map(|(z, _, core)| core * (z[1] - z[0])).sum();
    let plastic = volume - core * (1.0 - settings.infill);
    // Sections at half height leave out what tapers in between: the exact volume decides.
    let banded: f64 = bands.iter().map(|(z, section, _)| section * (z[1] - z[0])).sum();
    let scale = if banded > 0.0 { volume / banded } else { 1.0 };
    let bands = bands
        .drain(..)
        .map(|(z, section, core)| Band { z, area: section * scale - core * (1.0 - settings.infill) })
        .collect();
    // g/cm3 is 1e-6 kg/mm3.
    Ok(PrintMass { mass: plastic * settings.material.density * 1e-6, plastic, bands })
}

/// Between two heights: area of the section and of what prints at the infill's share \[mm2\].
type Split = ([f64; 2], f64, f64);

fn bands(stack: &Stack, settings: &PartSettings, printer: &Printer) -> Result<Vec<Split>, ShapeError> {
    let inset = f64::from(settings.walls) * printer.line_width;
    let skin = f64::from(settings.skins) * settings.layer_height;
    let areas = stack
        .slabs
        .iter()
        .map(|slab| Ok((slab.z, slab.area_at((slab.z[0] + slab.z[1]) / 2.0)?)))
        .collect::<Result<Vec<_>, ShapeError>>()?;
    // Gears, washers and spacers resolve to full infill.
    if settings.infill >= 1.0 {
        return Ok(areas.into_iter().map(|(z, area)| (z, area, 0.0)).collect());
    }
    let sections: Vec<([f64; 2], Region)> = stack
        .slabs
        .iter()
        .map(|slab| Ok((slab.z, solid_section(slab)?)))
        .collect::<Result<_, ShapeError>>()?;
    let mut heights: Vec<f64> = sections
        .iter()
        .flat_map(|(z, _)| [z[0], z[0] - skin, z[0] + skin, z[1], z[1] - skin, z[1] + skin])
        .collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| (*a - *b).abs() < 1e-6);

    let mut cores = Cores { sections: &sections, inset, known: Vec::new() };
    let mut bands = Vec::new();
    for pair in heights.windows(2) {
        let middle = (pair[0] + pair[1]) / 2.0;
        let within = |z: f64| sections.iter().position(|(range, _)| z > range[0] && z < range[1]);
        let Some(here) = within(middle) else { continue };
        // The core ends where any section within the skins above or below ends.
        let covered = within(middle - skin).is_some() && within(middle + skin).is_some();
        let core = if covered { cores.area(here, [middle - skin, middle + skin])? } else { 0.0 };
        bands.push(([pair[0], pair[1]], areas[here].1, core));
    }
    Ok(bands)
}

/// What prints at the infill's share, slab by slab.
struct Cores<'a> {
    sections: &'a [([f64; 2], Region)],
    inset: f64,
    /// By slab and the neighbours that cut it: many heights have the same, or one more.
    known: Vec<(usize, Vec<usize>, Region)>,
}

impl Cores<'_> {
    /// Of a slab, as far as all within these heights cover it \[mm2\]; 0 where the perimeters fill it.
    fn area(&mut self, here: usize, [low, high]: [f64; 2]) -> Result<f64, ShapeError> {
        let own = &self.sections[here].1;
        // One that goes on as this one takes nothing off it.
        let cuts = |index: &usize| {
            let (z, region) = &self.sections[*index];
            *index != here && z[0] < high && z[1] > low && !region.same_as(own)
        };
        let neighbours: Vec<usize> = (0..self.sections.len()).filter(cuts).collect();
        if self.core(here, &[])?.area() < LEAST_CORE {
            return Ok(0.0);
        }
        let area = self.core(here, &neighbours)?.area();
        Ok(if area < LEAST_CORE { 0.0 } else { area })
    }

    /// What lies within the perimeters, cut by one neighbour after the other.
    fn core(&mut self, here: usize, neighbours: &[usize]) -> Result<&Region, ShapeError> {
        let known = self.known.iter().position(|(at, by, _)| *at == here && by == neighbours);
        let place = match known {
            Some(place) => place,
            None => {
                let core = match neighbours.split_last() {
                    None => self.sections[here].1.offset(-self.inset)?,
                    Some((last, others)) => {
                        let sections = self.sections;
                        self.core(here, others)?.intersection(&sections[*last].1)?
                    }
                };
                self.known.push((here, neighbours.to_vec(), core));
                self.known.len() - 1
            }
        };
        Ok(&self.known[place].2)
    }
}

/// Section of a slab at half height, toothed outlines replaced by their root circles.
pub fn solid_section(slab: &Slab) -> Result<Region, ShapeError> {
    let middle = (slab.z[0] + slab.z[1]) / 2.0;
    if !slab.loops.iter().any(|one| one.toothed) {
        return slab.region_at(middle);
    }
    let loops = slab.loops.iter().map(|one| match one.toothed {
        true if one.bottom.signed_area() > 0.0 => {
            Loop::circle(Point::ORIGIN, one.bottom.min_radius(Point::ORIGIN))
        }
        true => Loop::circle(Point::ORIGIN, one.bottom.max_radius(Point::ORIGIN)).reversed(),
        false => one.bottom.clone(),
    });
    Ok(Region { loops: loops.collect() })
}
