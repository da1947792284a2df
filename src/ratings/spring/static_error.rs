//! Where the output may stand still beside its place: friction over stiffness, cogging, counts, play.
//!
//! A spring K lets the output stand wherever friction holds it: `+- f / K`. Everything in its worst place at once. Range: a spring
//! without integral action, deflections within the current limit. Not covered: friction that rises at rest (stiction), creep.

/// Each part \[rad\], at the output, to either side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StaticError {
    pub friction: f64,
    pub cogging: f64,
    /// Half a count.
    pub quantisation: f64,
    /// Half of the play: lost unless a load keeps the teeth on one side.
    pub play: f64,
    /// Of the sensor's angle.
    pub encoder: f64,
}

/// What it is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Causes {
    /// At the output \[N m\].
    pub friction: f64,
    pub cogging: f64,
    /// At the rotor \[rad\].
    pub count: f64,
    pub encoder_error: f64,
    /// Whole, at the output \[rad\].
    pub play: f64,
    pub ratio: f64,
}

impl StaticError {
    /// On a virtual spring of `stiffness` \[N m/rad\].
    pub fn of(causes: &Causes, stiffness: f64) -> StaticError {
        StaticError {
            friction: causes.friction / stiffness,
            cogging: causes.cogging / stiffness,
            quantisation: 0.5 * causes.count / causes.ratio,
            play: 0.5 * causes.play,
            encoder: causes.encoder_error / causes.ratio,
        }
    }

    pub fn total(&self) -> f64 {
        self.friction + self.cogging + self.quantisation + self.play + self.encoder
    }
}
