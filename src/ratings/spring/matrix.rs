//! Small square matrices: product, exponential, spectral radius. As much as a sampled loop needs.

use std::ops::{Index, IndexMut};

/// Powers are taken by squaring, to the 2^30th.
const SQUARINGS: u32 = 30;

/// Row by row.
#[derive(Clone, Debug, PartialEq)]
pub struct Matrix {
    size: usize,
    entries: Vec<f64>,
}

impl Matrix {
    pub fn zero(size: usize) -> Matrix {
        Matrix { size, entries: vec![0.0; size * size] }
    }

    pub fn identity(size: usize) -> Matrix {
        let mut matrix = Matrix::zero(size);
        for at in 0..size {
            matrix[(at, at)] = 1.0;
        }
        matrix
    }

    pub fn times(&self, other: &Matrix) -> Matrix {
        let mut product = Matrix::zero(self.size);
        let size = self.size.max(1);
        for (into, row) in product.entries.chunks_mut(size).zip(self.entries.chunks(size)) {
            for (factor, entries) in row.iter().zip(other.entries.chunks(size)) {
                if *factor == 0.0 {
                    continue;
                }
                for (sum, entry) in into.iter_mut().zip(entries) {
                    *sum += factor * entry;
                }
            }
        }
        product
    }

    pub fn scaled(&self, factor: f64) -> Matrix {
        Matrix { size: self.size, entries: self.entries.iter().map(|entry| entry * factor).collect() }
    }

    /// Largest entry by size.
    pub fn largest(&self) -> f64 {
        self.entries.iter().fold(0.0, |most, entry| f64::max(most, entry.abs()))
    }

    /// `e^A`: Taylor's series of `A / 2^n`, squared n times. To some 1e-14 of the largest entry.
    pub fn exponential(&self) -> Matrix {
        /// The series of a matrix of norm 1/2 ends below a double's last bit.
        const TERMS: u32 = 18;
        let norm = self.largest() * self.size as f64;
        let mut halvings = 0;
        let mut scale = 1.0;
        // A norm that isn't a finite number never gets under a half.
        while norm * scale > 0.5 && halvings < 200 {
            scale *= 0.5;
            halvings += 1;
        }
        let small = self.scaled(scale);
        let mut term = Matrix::identity(self.size);
        let mut sum = term.clone();
        for order in 1..=TERMS {
            term = term.times(&small).scaled(1.0 / f64::from(order));
            for (into, entry) in sum.entries.iter_mut().zip(&term.entries) {
                *into += entry;
            }
        }
        for _ in 0..halvings {
            sum = sum.times(&sum);
        }
        sum
    }

    /// Whether all eigenvalues lie inside the unit circle: a power with a norm under 1 says yes, one whose trace is over the
    /// number of eigenvalues says no; what neither has decided by [`spectral_radius`](Matrix::spectral_radius)'s last power is
    /// told by that. None if entries aren't finite numbers.
    pub fn is_stable(&self) -> Option<bool> {
        if !self.entries.iter().all(|entry| entry.is_finite()) {
            return None;
        }
        let most_trace = libm::log(self.size as f64);
        let mut power = self.balanced();
        // The power is this matrix times e^scale.
        let mut scale = 0.0;
        for _ in 0..SQUARINGS {
            let largest = power.largest();
            if largest == 0.0 || libm::log(power.row_norm()) + scale < 0.0 {
                return Some(true);
            }
            if libm::log(power.trace().abs()) + scale > most_trace {
                return Some(false);
            }
            power = power.scaled(1.0 / largest);
            power = power.times(&power);
            scale = 2.0 * (scale + libm::log(largest));
        }
        let radius = self.spectral_radius();
        radius.is_finite().then_some(radius < 1.0)
    }

    /// The same map in other units, rows about as large as columns: powers show sooner where they lead. By powers of two, which
    /// round nothing (Parlett and Reinsch, Numerische Mathematik 13, 1969, from memory).
    fn balanced(&self) -> Matrix {
        const SWEEPS: u32 = 3;
        let mut balanced = self.clone();
        for _ in 0..SWEEPS {
            for at in 0..self.size {
                let others = (0..self.size).filter(|&other| other != at);
                let (row, column) = others.fold((0.0, 0.0), |(row, column), other| {
                    (row + balanced[(at, other)].abs(), column + balanced[(other, at)].abs())
                });
                let unit = libm::exp2(libm::round(0.5 * libm::log2(row / column)));
                if !(unit.is_finite() && unit > 0.0) {
                    continue;
                }
                for other in (0..self.size).filter(|&other| other != at) {
                    balanced[(at, other)] /= unit;
                    balanced[(other, at)] *= unit;
                }
            }
        }
        balanced
    }

    /// Largest sum of a row by size: a norm that no product exceeds.
    fn row_norm(&self) -> f64 {
        let sum = |row: &[f64]| row.iter().map(|entry| entry.abs()).sum();
        self.entries.chunks(self.size.max(1)).map(sum).fold(0.0, f64::max)
    }

    fn trace(&self) -> f64 {
        (0..self.size).map(|at| self[(at, at)]).sum()
    }

    /// Largest size of an eigenvalue, by Gelfand's formula: `|A^N|^(1/N)` with N = 2^30 by squaring, scaled each time.
    ///
    /// Good to `ln(condition) / 2^30`, some 1e-8.
    pub fn spectral_radius(&self) -> f64 {
        let mut power = self.clone();
        let mut log_radius = 0.0;
        let mut weight = 1.0;
        for _ in 0..SQUARINGS {
            let norm = power.largest();
            if norm == 0.0 {
                return 0.0;
            }
            log_radius += weight * libm::log(norm);
            power = power.scaled(1.0 / norm);
            power = power.times(&power);
            weight *= 0.5;
        }
        libm::exp(log_radius)
    }
}

// Indices come from the sizes of this module's callers, never from input.
impl Index<(usize, usize)> for Matrix {
    type Output = f64;

    fn index(&self, (row, column): (usize, usize)) -> &f64 {
        &self.entries[row * self.size + column]
    }
}

impl IndexMut<(usize, usize)> for Matrix {
    fn index_mut(&mut self, (row, column): (usize, usize)) -> &mut f64 {
        &mut self.entries[row * self.size + column]
    }
}
