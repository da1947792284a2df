//! Union, difference and intersection of regions, read off one arrangement.

use super::arrangement::{Arrangement, Crossings, Members};
use super::error::ShapeError;
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
        let arrangement = Arrangement::of(&[self, other], Crossings::Everywhere);
        let extract = arrangement.extract(rule)?;
        Ok(arrangement.region_of(&extract.loops).simplified())
    }
}
