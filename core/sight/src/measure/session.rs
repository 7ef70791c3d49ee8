//! A decoded photograph that answers taps.

use super::measured::{
    Measured, MeasuredImpact, MeasuredTear, PlaneFacts, ReadAs, Rectified, Suggested, Trace,
    mean_sd,
};
use super::on_plane::{Aim, OnPlane};
use super::request::{MeasureRequest, MeasuredLength, Reference, Tap, TearTap};
use super::{DEFAULT_TAP_SD_PX, MeasureError, reference, shaft, suggest, trace};
use crate::frame::{Cov2, PointPx};
use crate::impact::{NotSnapped, Sight};
use crate::photo::{self, Photo, Planes};
use crate::plane::{FirstLook, Plane, Reading};
use crate::tear::{self, Tear, TearRefusal};

/// The centre looked for is at most this far from the tap, mm.
const SEARCH_RANGE_MM: (f64, f64) = (2.75, 6.0);
/// ... and this many of the tap's standard deviations.
const SEARCH_SDS: f64 = 2.5;
/// A tear needs this much of the picture around the tap, mm.
const TEAR_ROOM_MM: f64 = 20.0;

/// Measures one photograph in one call.
///
/// # Errors
/// [`MeasureError`] when the photograph cannot be read, the reference not be fitted, or a mark lies
/// outside the picture. A hole that cannot be snapped or a tear that cannot be read is no error:
/// its entry says so.
pub fn measure(photo: &[u8], request: &MeasureRequest) -> Result<Measured, MeasureError> {
    let mut session = PhotoSession::open(photo)?;
    let plane = session.fit(
        &request.reference,
        request.lens_k1,
        request.measured_length.as_ref(),
    )?;
    let mut found = session.reference_traces()?;
    let (impacts, rims) = session.snap_all(&request.taps)?;
    found.extend(rims);
    let mut tears = Vec::with_capacity(request.tears.len());
    for (k, tap) in request.tears.iter().enumerate() {
        session.check_mark(tap.px, || format!("tear {}", k + 1))?;
        let (tear, traces) = session.tear(tap)?;
        tears.push(tear);
        found.extend(traces);
    }
    let suggested = if request.propose {
        session.propose()?
    } else {
        Suggested::default()
    };
    found.extend(suggested.standing);
    Ok(Measured {
        plane,
        impacts,
        proposals: suggested.holes,
        tears,
        found,
        camera: session.photo.camera(),
    })
}

/// A decoded photograph, and its plane once a reference is fitted.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotoSession {
    photo: Photo,
    seen: FirstLook,
    fitted: Option<Fitted>,
}

#[derive(Debug, Clone, PartialEq)]
struct Fitted {
    plane: Plane,
    traces: Vec<Trace>,
}

/// What is seen around a tap.
struct LookedAt {
    raw: Reading,
    aim: Aim,
    sight: Result<Sight, NotSnapped>,
}

/// How well a tap points, px, as stated or as usual.
fn stated_sd_px(sd_px: Option<f64>) -> Result<f64, MeasureError> {
    positive(
        "uncertainty of a tap (px)",
        sd_px.unwrap_or(DEFAULT_TAP_SD_PX),
    )
}

impl PhotoSession {
    /// Decodes the photograph.
    ///
    /// # Errors
    /// [`MeasureError::Photo`].
    pub fn open(bytes: &[u8]) -> Result<Self, MeasureError> {
        let photo = photo::decode(bytes, Planes::Colour)?;
        // Judged as it was taken.
        Photo::quality(&photo.half())?;
        Ok(Self::of(photo.brightened()))
    }

    /// A photograph that is already decoded.
    pub fn of(photo: Photo) -> Self {
        Self {
            photo,
            seen: FirstLook::default(),
            fitted: None,
        }
    }

    /// The photograph, upright.
    pub fn photo(&self) -> &Photo {
        &self.photo
    }

    /// The plane, once fitted.
    pub fn plane(&self) -> Option<&Plane> {
        self.fitted.as_ref().map(|f| &f.plane)
    }

    /// Fits the reference; everything after is measured on its plane. A reference that does not fit
    /// leaves the one before in place.
    ///
    /// # Errors
    /// [`MeasureError::Plane`], or a mark outside the picture.
    pub fn fit(
        &mut self,
        reference: &Reference,
        lens_k1: Option<f64>,
        length: Option<&MeasuredLength>,
    ) -> Result<PlaneFacts, MeasureError> {
        for (mark, what) in reference::marks(reference, length) {
            self.check_mark(mark, || what.into())?;
        }
        let plane = reference::fit(&self.photo, &self.seen, reference, lens_k1, length)?;
        let mut traces = trace::of_reference(&plane, reference);
        traces.extend(length.map(trace::of_length));
        let facts = PlaneFacts::of(&plane);
        self.fitted = Some(Fitted { plane, traces });
        Ok(facts)
    }

    /// The outline of the reference and of a measured length on the picture.
    ///
    /// # Errors
    /// [`MeasureError::NoReference`].
    pub fn reference_traces(&self) -> Result<Vec<Trace>, MeasureError> {
        self.fitted().map(|f| f.traces.clone())
    }

    /// Measures one impact: the hole behind the tap, or the tap itself when none can be trusted.
    ///
    /// # Errors
    /// [`MeasureError::NoReference`], or a tap outside the picture or beyond the horizon.
    pub fn snap(&self, tap: &Tap) -> Result<(MeasuredImpact, Option<Trace>), MeasureError> {
        self.answer(tap, &self.looked_at(tap)?)
    }

    /// Measures all impacts of the photograph: what their holes say of the shaft's size helps to read
    /// the torn ones among them, where no tap says it.
    ///
    /// # Errors
    /// As [`Self::snap`].
    pub fn snap_all(
        &self,
        taps: &[Tap],
    ) -> Result<(Vec<MeasuredImpact>, Vec<Trace>), MeasureError> {
        let mut read = Vec::with_capacity(taps.len());
        let mut torn = Vec::new();
        for (k, tap) in taps.iter().enumerate() {
            self.check_mark(tap.px, || format!("tap {}", k + 1))?;
            let looked = self.looked_at(tap)?;
            let answer = self.answer(tap, &looked)?;
            if tap.shaft_mm.is_none() && answer.0.read_as != ReadAs::Crisp {
                torn.push((k, looked));
            }
            read.push(answer);
        }
        let impacts: Vec<MeasuredImpact> = read.iter().map(|(impact, _)| *impact).collect();
        let size = shaft::shaft_mm(&impacts);
        for (k, looked) in torn.iter().filter(|_| size.is_some()) {
            if let (Some(tap), Some(read)) = (taps.get(*k), read.get_mut(*k)) {
                let tap = Tap {
                    shaft_mm: size,
                    ..*tap
                };
                *read = self.answer(&tap, looked)?;
            }
        }
        let (impacts, traces): (Vec<_>, Vec<_>) = read.into_iter().unzip();
        Ok((impacts, traces.into_iter().flatten().collect()))
    }

    /// What is seen around a tap, whatever its shaft.
    fn looked_at(&self, tap: &Tap) -> Result<LookedAt, MeasureError> {
        let plane = &self.fitted()?.plane;
        let sd_px = stated_sd_px(tap.sd_px)?;
        let raw = self.read(plane, tap.px, sd_px, "tap")?;
        let shaft_mm = tap.shaft_mm.map(|mm| positive("shaft diameter (mm)", mm));
        // How well the tap points at this hole; where on the plane both lie is another matter.
        let sd_mm = sd_px / plane.px_per_mm(raw.at).max(1e-6);
        let aim = Aim {
            search_mm: (SEARCH_SDS * sd_mm).clamp(SEARCH_RANGE_MM.0, SEARCH_RANGE_MM.1),
            tap_sd_mm: sd_mm,
            shaft_mm: shaft_mm.transpose()?,
        };
        let sight = OnPlane::new(&self.photo, plane).sight_at(raw.at, aim);
        Ok(LookedAt { raw, aim, sight })
    }

    /// The impact behind a tap, from what was seen around it.
    fn answer(
        &self,
        tap: &Tap,
        looked: &LookedAt,
    ) -> Result<(MeasuredImpact, Option<Trace>), MeasureError> {
        let plane = &self.fitted()?.plane;
        let aim = Aim {
            shaft_mm: tap.shaft_mm,
            ..looked.aim
        };
        let on_plane = OnPlane::new(&self.photo, plane);
        let sight = looked.sight.as_ref().map_err(|reason| *reason);
        Ok(
            match sight.and_then(|sight| on_plane.hole_in(sight, looked.raw.at, aim)) {
                Ok(hole) => {
                    let px = plane.to_px(hole.centre);
                    let fit = self.read(plane, px, 0.0, "hole")?;
                    let reading = fit.reading + Cov2::round(hole.sd_mm);
                    let whole = Reading { reading, ..fit };
                    let rim = trace::of_hole(plane, &hole);
                    (MeasuredImpact::snapped(tap, px, &whole, &hole), Some(rim))
                }
                Err(reason) => {
                    let placed = MeasuredImpact::placed(tap, &looked.raw);
                    let reason = Some(reason);
                    (MeasuredImpact { reason, ..placed }, None)
                }
            },
        )
    }

    /// Measures one impact where a person placed it, whatever the picture shows there.
    ///
    /// # Errors
    /// As [`Self::snap`].
    pub fn place(&self, tap: &Tap) -> Result<MeasuredImpact, MeasureError> {
        let plane = &self.fitted()?.plane;
        let sd_px = stated_sd_px(tap.sd_px)?;
        let read = self.read(plane, tap.px, sd_px, "tap")?;
        Ok(MeasuredImpact::placed(tap, &read))
    }

    /// Reads one paper tear.
    ///
    /// # Errors
    /// [`MeasureError::NoReference`], or a tap outside the picture or beyond the horizon.
    pub fn tear(&self, tap: &TearTap) -> Result<(MeasuredTear, Vec<Trace>), MeasureError> {
        let plane = &self.fitted()?.plane;
        let sd_px = stated_sd_px(tap.sd_px)?;
        let at = self.read(plane, tap.px, sd_px, "tear")?;
        if let Some(nock_px) = tap.nock_px {
            let nock = self.read(plane, nock_px, sd_px, "nock end")?;
            let sd_mm = mean_sd(at.reading + nock.reading);
            let by_hand = Tear {
                point: at.at,
                nock: nock.at,
                vector: nock.at - at.at,
                sd_mm,
                slits: Vec::new(),
            };
            return Ok(read_as(plane, &by_hand));
        }
        let on_plane = OnPlane::new(&self.photo, plane);
        let read = if on_plane.shows(at.at, TEAR_ROOM_MM) {
            tear::read_tear(at.at, tap.shaft_mm, &on_plane)
        } else {
            Err(TearRefusal::PictureEdge)
        };
        Ok(match read {
            Ok(tear) => read_as(plane, &tear),
            Err(reason) => (MeasuredTear::refused(tap, reason), Vec::new()),
        })
    }

    /// Suggests where holes are, best first, and says where an arrow still stands. A person decides.
    ///
    /// # Errors
    /// [`MeasureError::NoReference`].
    pub fn propose(&self) -> Result<Suggested, MeasureError> {
        Ok(suggest::look(&self.photo, &self.fitted()?.plane))
    }

    /// The reference's plane straight on, at a chosen scale (larger steps where the picture would
    /// exceed 2400 px).
    ///
    /// # Errors
    /// [`MeasureError::NoReference`], or a scale that is not above zero.
    pub fn rectified(&self, mm_per_px: f64) -> Result<Rectified, MeasureError> {
        let plane = &self.fitted()?.plane;
        let step = positive("mm per px", mm_per_px)?;
        let on_plane = OnPlane::new(&self.photo, plane);
        Ok(on_plane.rectified(on_plane.region(), step))
    }

    fn fitted(&self) -> Result<&Fitted, MeasureError> {
        self.fitted.as_ref().ok_or(MeasureError::NoReference)
    }

    fn read(
        &self,
        plane: &Plane,
        px: PointPx,
        sd_px: f64,
        what: &str,
    ) -> Result<Reading, MeasureError> {
        self.check_mark(px, || what.into())?;
        plane
            .read(px, sd_px)
            .ok_or_else(|| self.outside(px, what.into()))
    }

    fn check_mark(&self, at: PointPx, what: impl FnOnce() -> String) -> Result<(), MeasureError> {
        let inside = (0.0..self.photo.width() as f64).contains(&at.x_px)
            && (0.0..self.photo.height() as f64).contains(&at.y_px);
        if inside {
            Ok(())
        } else {
            Err(self.outside(at, what()))
        }
    }

    fn outside(&self, at: PointPx, what: String) -> MeasureError {
        let (width, height) = (self.photo.width(), self.photo.height());
        MeasureError::MarkOutside {
            what,
            at,
            width,
            height,
        }
    }
}

fn read_as(plane: &Plane, tear: &Tear) -> (MeasuredTear, Vec<Trace>) {
    (MeasuredTear::read(plane, tear), trace::of_tear(plane, tear))
}

fn positive(what: &'static str, value: f64) -> Result<f64, MeasureError> {
    if value.is_finite() && value > 0.0 {
        Ok(value)
    } else {
        Err(MeasureError::BadNumber { what, value })
    }
}
