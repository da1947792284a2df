//! Union, difference and intersection of regions, read off one arrangement.

use super::arrangement::{Arrangement, Crossings, Members, Piece};
use super::error::ShapeError;
use super::loops::Loop;
use super::region::Region;

const FIRST: Members = 1;
const SECOND: Members = 2;

impl Region {
    /// The points of either region.
    ///
    /// # Errors
    /// [`ShapeErrorKind::OpenBoundary`](super::ShapeErrorKind::OpenBoundary) when rounding defeats the tracing.
    pub fn union(&self, other: &Region) -> Result<Region, ShapeError> {
        self.combined(other, |members| members != 0)
    }

    /// The points of this region that are not in `other`.
    ///
    /// # Errors
    /// As [`Region::union`].
    pub fn minus(&self, other: &Region) -> Result<Region, ShapeError> {
        self.combined(other, |members| members == FIRST)
    }

    /// The points of both regions.
    ///
    /// # Errors
    /// As [`Region::union`].
    pub fn intersection(&self, other: &Region) -> Result<Region, ShapeError> {
        self.combined(other, |members| members == FIRST | SECOND)
    }

    /// The union of any number of regions.
    ///
    /// # Errors
    /// As [`Region::union`].
    pub fn union_of<'a>(regions: impl IntoIterator<Item = &'a Region>) -> Result<Region, ShapeError> {
        regions.into_iter().try_fold(Region::empty(), |sum, region| sum.union(region))
    }

    fn combined(&self, other: &Region, rule: impl Fn(Members) -> bool) -> Result<Region, ShapeError> {
        let regions = [self, other];
        let arrangement = Arrangement::of_touching(&regions, Crossings::Everywhere);
        let outline = |pieces: Vec<Piece>| Loop(pieces.into_iter().map(|piece| piece.segment).collect());
        let loops = arrangement.traced(&regions, rule)?.loops.into_iter().map(outline);
        Ok(Region { loops: loops.map(|outline| outline.simplified()).collect() })
    }
}
