//! How far a joint may be from its prediction and still be as predicted. Common practice, no source, but where a rating has a
//! band of its own (stiffness, back-drive).

/// Shares of the value, unless said otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bands {
    pub torque: f64,
    /// Kv and resistance of a sample against its sheet.
    pub sheet: f64,
    /// \[K\]
    pub temperature: f64,
    pub speed: f64,
    /// Friction and cogging.
    pub friction: f64,
    /// Drag that is a guess.
    pub guessed_drag: f64,
    /// A factor below the least and above the most.
    pub play: f64,
}

pub const BANDS: Bands = Bands {
    torque: 0.1,
    sheet: 0.1,
    temperature: 10.0,
    speed: 0.1,
    friction: 0.5,
    guessed_drag: 1.0,
    play: 2.0,
};
