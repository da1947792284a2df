//! Tolerance chains along the axis: nominal, worst case and root sum square.
//!
//! Each link adds to the gap or takes from it, and may come out larger by `over` and smaller by `under`. Worst case: all links at
//! their ends at once. Root sum square: links independent of each other, each limit as far from its middle as the others' in
//! standard deviations; the middles of lopsided limits (a bearing's width may only be less) shift the gap's own.
//! Textbook method of statistical tolerancing (from memory); the band it gives holds for about 99.7 % of joints if each link's does.
//!
//! Tolerances: [`printed`] heights are a stated estimate; ring widths ([`bearing_width`]) ISO 492 class Normal (from memory).
//! Not covered: heat, creep, tilt, dirt under a face.

/// One length of a chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    pub name: String,
    /// Signed: what widens the gap is positive \[mm\].
    pub length: f64,
    /// How far the length itself may come out larger and smaller, both positive \[mm\].
    pub over: f64,
    pub under: f64,
}

/// Scatter of a printed height beyond its layers: bed level and extrusion \[mm\] (stated estimate, band 0.02 to 0.1).
const SCATTER: f64 = 0.05;
/// And what goes with the height (stated estimate, band 0 to 0.2 %).
const GROWTH: f64 = 0.001;

impl Link {
    /// A length that may come out larger or smaller by as much.
    pub fn even(name: impl Into<String>, length: f64, tolerance: f64) -> Link {
        Link { name: name.into(), length, over: tolerance, under: tolerance }
    }

    /// A height within one printed part, made of whole layers.
    pub fn printed(name: impl Into<String>, length: f64, layer: f64) -> Link {
        Link::even(name, length, printed(length.abs(), layer))
    }

    /// Width of one bearing of this bore.
    pub fn bearing(name: impl Into<String>, length: f64, bore: f64) -> Link {
        Link { name: name.into(), length, over: 0.0, under: bearing_width(bore) }
    }
}

/// Tolerance of a printed height \[mm\], plus or minus: what rounding to whole layers takes or adds, and scatter.
pub fn printed(height: f64, layer: f64) -> f64 {
    let off = if layer > 0.0 { (height - (height / layer).round() * layer).abs() } else { 0.0 };
    off + SCATTER + GROWTH * height
}

/// How much narrower than nominal a ring may be \[mm\]: ISO 492 class Normal, width deviation of the inner ring by bore (from memory).
pub fn bearing_width(bore: f64) -> f64 {
    match bore {
        bore if bore <= 2.5 => 0.040,
        bore if bore <= 50.0 => 0.120,
        bore if bore <= 80.0 => 0.150,
        bore if bore <= 120.0 => 0.200,
        _ => 0.250,
    }
}

/// A gap with what may become of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    pub links: Vec<Link>,
    pub nominal: f64,
    /// Least and most, all links at their worst.
    pub worst: [f64; 2],
    /// Least and most by root sum square.
    pub likely: [f64; 2],
}

impl Chain {
    pub fn of(links: Vec<Link>) -> Chain {
        let nominal: f64 = links.iter().map(|link| link.length).sum();
        // A link that takes from the gap does so more when it comes out larger.
        let limits =
            |link: &Link| if link.length >= 0.0 { (link.under, link.over) } else { (link.over, link.under) };
        let (mut less, mut more, mut middle, mut squares) = (0.0, 0.0, nominal, 0.0);
        for link in &links {
            let (down, up) = limits(link);
            less += down;
            more += up;
            middle += (up - down) / 2.0;
            let half = (up + down) / 2.0;
            squares += half * half;
        }
        let spread = squares.sqrt();
        Chain {
            links,
            nominal,
            worst: [nominal - less, nominal + more],
            likely: [middle - spread, middle + spread],
        }
    }
}
