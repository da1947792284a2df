//! Bending at the planet's tooth root, a first form: Lewis, `sigma = Ft / (b mn Y)`.
//!
//! Y for 20 degrees full depth, load at the tip, by virtual teeth `z / cos^3 beta` (Shigley, table 14-2, from memory;
//! tables differ by 0.002). Range: 12 teeth and more. Not covered: stress concentration, load sharing between teeth,
//! dynamics, temperature, layers; the idler's both-way bending.

const FORM: [(f64, f64); 24] = [
    (12.0, 0.245),
    (13.0, 0.261),
    (14.0, 0.277),
    (15.0, 0.290),
    (16.0, 0.296),
    (17.0, 0.303),
    (18.0, 0.309),
    (19.0, 0.314),
    (20.0, 0.322),
    (21.0, 0.328),
    (22.0, 0.331),
    (24.0, 0.337),
    (26.0, 0.346),
    (28.0, 0.353),
    (30.0, 0.359),
    (34.0, 0.371),
    (38.0, 0.384),
    (43.0, 0.397),
    (50.0, 0.409),
    (60.0, 0.422),
    (75.0, 0.435),
    (100.0, 0.447),
    (150.0, 0.460),
    (300.0, 0.472),
];

/// Lewis form factor; none under 12 virtual teeth.
pub fn form_factor(teeth: u32, helix_angle: f64) -> Option<f64> {
    let cosine = libm::cos(helix_angle);
    let virtual_teeth = f64::from(teeth) / (cosine * cosine * cosine);
    if virtual_teeth < FORM[0].0 {
        return None;
    }
    let upper = FORM.windows(2).find(|pair| virtual_teeth <= pair[1].0);
    Some(upper.map_or(FORM[FORM.len() - 1].1, |pair| {
        let t = (virtual_teeth - pair[0].0) / (pair[1].0 - pair[0].0);
        pair[0].1 + t * (pair[1].1 - pair[0].1)
    }))
}

/// Root stress \[MPa\] from the tangential force \[N\], face width and normal module \[mm\].
pub fn root_stress(
    tangential: f64,
    face_width: f64,
    normal_module: f64,
    teeth: u32,
    helix_angle: f64,
) -> Option<f64> {
    form_factor(teeth, helix_angle).map(|form| tangential / (face_width * normal_module * form))
}
