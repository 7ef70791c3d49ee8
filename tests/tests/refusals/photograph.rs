//! What a photograph is refused with.

use shimwright::album::AlbumError;
use shimwright::frame::PointPx;
use shimwright::impact::NotSnapped;
use shimwright::measure::MeasureError;
use shimwright::photo::{PhotoError, QualityFault};
use shimwright::plane::{Edge, PlaneError};
use shimwright::tear::TearRefusal;

use super::{is_one_sentence, refusals, said};

refusals! {
    of_planes: PlaneError {
        TooFewPoints: PlaneError::TooFewPoints { got: 3, need: 4 }
            => "3 known points are too few; mark 4 or more";
        NotFinite: PlaneError::NotFinite => "a point is not a number; tap it again";
        Degenerate: PlaneError::Degenerate
            => "the points lie in a line or on top of each other; tap the four corners again";
        CornersOutOfOrder: PlaneError::CornersOutOfOrder
            => "the corners are out of order; tap top left, top right, bottom right, bottom left as seen in the photo";
        Size: PlaneError::Size { what: "sheet width", value: 2.1, min: 5.0, max: 5000.0 }
            => "2.1 mm as sheet width is outside 5 to 5000 mm; measure it again and check the unit";
        WrongShape: PlaneError::WrongShape { percent_wide: 9.2 }
            => "the sheet in the photo is +9 % wider for its height than the one chosen; check which size it is, and that the corners are on it";
        Turned: PlaneError::Turned
            => "the sheet lies turned by a quarter; swap its width and height, or start at another corner";
        EdgeNotFound: PlaneError::EdgeNotFound { edge: Edge::Left, percent_seen: 12.0 }
            => "only 12 % of the left edge was found; move the corners onto the sheet, or photograph it against a background of another shade";
        SharpCorners: PlaneError::SharpCorners
            => "what was found has sharp corners, as print on a card has; move the corners onto the card's edge, or photograph it against a background of another shade";
        TooOblique: PlaneError::TooOblique { degrees: 71.0 }
            => "the sheet is seen too much from the side (71 degrees); photograph it from straight in front";
        EdgeCut: PlaneError::EdgeCut { edge: Edge::Top }
            => "the top edge runs out of the photo; take it again with room around the sheet";
        NotFound: PlaneError::NotFound
            => "no single sheet stands out in the photo; tap its four corners";
        SingleRing: PlaneError::SingleRing
            => "one ring alone can be wrong by a metre; enter the radii of all rings that can be seen, or tap the middle again";
        TooFewRings: PlaneError::TooFewRings { found: 2, need: 3 }
            => "only 2 of the rings were found, and at least 3 are needed; tap the middle again, or photograph the face from straight in front";
        RingsAmbiguous: PlaneError::RingsAmbiguous
            => "the rings fit in more than one size; check the radii, enter all rings that can be seen, or tap the middle again";
        UnknownFace: PlaneError::UnknownFace { key: said("face_41") }
            => "there is no face called \"face_41\"; choose one from the list, or enter your own ring radii";
        RingsNotFound: PlaneError::RingsNotFound
            => "the rings of this face were not found around the tap; tap its centre again, or choose another face";
    }
    of_photographs: PhotoError {
        NotJpeg: PhotoError::NotJpeg
            => "this file is not a JPEG photograph; choose a photo straight from the camera";
        Damaged: PhotoError::Damaged { detail: said("it ends early") }
            => "the photo file is damaged or incomplete (it ends early); copy it again or take another";
        Size: PhotoError::Size { width: 40, height: 30, min_side: 64, max_megapixels: 64 }
            => "the photo says it is 40 x 30 px; choose one of 64 px a side or more and at most 64 megapixels";
        HeaderLies: PhotoError::HeaderLies { width: 4000, height: 3000, bytes: 700 }
            => "the photo says it is 4000 x 3000 px but the file holds only 700 bytes; copy it again";
        Unsupported: PhotoError::Unsupported { kind: "CMYK" }
            => "the photo is of the kind CMYK JPEG; save it as an ordinary 8-bit colour JPEG";
        Unusable: PhotoError::Unusable(QualityFault::Dark { highlights: 9 })
            => "the photo cannot be measured: it is too dark (brightest parts at 9 of 255); add light";
    }
    of_what_a_picture_lacks: QualityFault {
        Blurred: QualityFault::Blurred { edge_width_px: 30.0 }
            => "it is blurred (edges 30 px wide); hold still, tap to focus and take it again";
        Dark: QualityFault::Dark { highlights: 9 }
            => "it is too dark (brightest parts at 9 of 255); add light";
        BlownOut: QualityFault::BlownOut { share: 0.9 }
            => "90 % of it is pure white; tap the brightest part to expose for it, or shade the target";
        Flat: QualityFault::Flat { contrast: 7 }
            => "it shows almost one shade (range 7 of 255); uncover the lens and point it at the target";
    }
    of_holes: NotSnapped {
        NothingRound: NotSnapped::NothingRound
            => "no round hole stands out here; place the mark with the magnifier";
        RimHidden: NotSnapped::RimHidden
            => "too little of the hole's rim can be seen; place the mark with the magnifier";
        Ragged: NotSnapped::Ragged
            => "the hole is too ragged for a sure centre; place the mark with the magnifier";
        Crossed: NotSnapped::Crossed
            => "something lies across this, such as the torn edge of another hole; place the mark with the magnifier";
        WrongSize: NotSnapped::WrongSize
            => "what is here is not the size of an arrow hole; place the mark with the magnifier";
        ShaftStanding: NotSnapped::ShaftStanding
            => "an arrow seems to stand here; pull it and take the photo again, or use the magnifier";
        PictureEdge: NotSnapped::PictureEdge
            => "the mark is too near the edge of the photo; take it with more room around";
    }
    of_tears: TearRefusal {
        BadShaft: TearRefusal::BadShaft
            => "the shaft's outer diameter is outside 3.5 to 12 mm; measure it again";
        NothingTorn: TearRefusal::NothingTorn
            => "no torn opening stands out here; hold something dark behind the paper and tap into the tear";
        TooLarge: TearRefusal::TooLarge
            => "the opening is too large or runs into another one; shoot a fresh spot of paper";
        TooFewSlits: TearRefusal::TooFewSlits
            => "fewer than two vane slits can be seen; mark the point's hole and the nock end by hand";
        SlitsDisagree: TearRefusal::SlitsDisagree
            => "the vane slits do not meet in one place; mark the point's hole and the nock end by hand";
        ShapeUnclear: TearRefusal::ShapeUnclear
            => "the opening does not look like the track of this shaft; check its diameter, or mark both ends by hand";
        PictureEdge: TearRefusal::PictureEdge
            => "the tear is too near the edge of the photo; take it with more room around";
    }
    of_measuring: MeasureError {
        Photo: PhotoError::NotJpeg.into()
            => "this file is not a JPEG photograph; choose a photo straight from the camera";
        Plane: PlaneError::NotFinite.into() => "a point is not a number; tap it again";
        MarkOutside: MeasureError::MarkOutside { what: said("tap 3"), at: PointPx::new(-4.0, 20.0), width: 400, height: 300 }
            => "tap 3 at (-4, 20) px is not on the 400 x 300 px photo; tap it again";
        BadNumber: MeasureError::BadNumber { what: "shaft diameter (mm)", value: -5.0 }
            => "-5 as shaft diameter (mm) is not a number above zero; enter it again";
        NoReference: MeasureError::NoReference
            => "nothing in the photo is of known size yet; say first what is";
    }
    of_copies_of_photographs: AlbumError {
        Photo: PhotoError::NotJpeg.into()
            => "this file is not a JPEG photograph; choose a photo straight from the camera";
        Measure: MeasureError::NoReference.into()
            => "nothing in the photo is of known size yet; say first what is";
        MarkOutside: AlbumError::MarkOutside
            => "an arrow lies outside the sheet or face that was measured, so the whole picture is kept; correct the mark to crop it";
        NoPlane: AlbumError::NoPlane
            => "this photograph has no sheet or face to crop it to, so the whole picture is kept; measure it to crop it";
        Pack: AlbumError::Pack { detail: said("it is too wide") }
            => "the picture cannot be packed (it is too wide) and is as it was; try again with another one";
    }
}
