//! A sheet of which a side was not seen.

use crate::plane::line::Line;
use crate::plane::{Plane, PlaneError, PlaneWarning, Sheet};

use super::gates::{ShapeTest, check_shape};
use crate::frame::PointPx;

impl Sheet {
    /// Refuses a sheet whose proportions are wrong once a side that was not seen lies where it was tapped.
    /// Where the proportions chosen have placed it, the fit's own shape proves nothing.
    pub(crate) fn check_left_out(
        &self,
        plane: &Plane,
        taps: &[PointPx; 4],
        focal_px: Option<f64>,
    ) -> Result<(), PlaneError> {
        let lens = &plane.lens;
        let found = self
            .corners_mm()
            .map(|corner| lens.undistort(plane.to_px(corner)));
        let tapped = taps.map(|tap| lens.undistort(tap));
        let shape = ShapeTest::new(lens, focal_px);
        for warning in &plane.warnings {
            let PlaneWarning::EdgeLeftOut { edge } = warning else {
                continue;
            };
            let at = |corners: &[PointPx; 4], i: usize| {
                Line::between(corners[i % 4], corners[(i + 1) % 4])
            };
            let i = *edge as usize;
            let (Some(before), Some(tap), Some(after)) =
                (at(&found, i + 3), at(&tapped, i), at(&found, i + 1))
            else {
                continue;
            };
            let (Some(from), Some(to)) = (before.meet(&tap), tap.meet(&after)) else {
                continue;
            };
            let mut corners = found;
            corners[i] = from;
            corners[(i + 1) % 4] = to;
            check_shape(self, &self.homography(&corners)?, lens, &shape)?;
        }
        Ok(())
    }
}
