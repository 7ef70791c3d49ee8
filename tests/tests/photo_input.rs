//! What happens to files that are not what they should be, and to all that are.

use jpeg_encoder::{ColorType, Encoder};
use shimwright::frame::PointPx;
use shimwright::measure::MeasureRequest;
use shimwright::photo::{Orientation, PhotoError, Planes, decode};

const W: u16 = 96;
const H: u16 = 80;

/// A ramp to the right in red and downwards in green.
fn pixels(channels: usize) -> Vec<u8> {
    let (w, h) = (usize::from(W), usize::from(H));
    (0..w * h * channels)
        .map(|i| match i % channels {
            0 => (i / channels % w * 2) as u8,
            1 => (i / channels / w * 3) as u8,
            _ => 90,
        })
        .collect()
}

fn jpeg(kind: ColorType, channels: usize, with: impl Fn(&mut Encoder<&mut Vec<u8>>)) -> Vec<u8> {
    let mut out = Vec::new();
    let mut encoder = Encoder::new(&mut out, 95);
    with(&mut encoder);
    encoder.encode(&pixels(channels), W, H, kind).unwrap();
    out
}

fn rgb() -> Vec<u8> {
    jpeg(ColorType::Rgb, 3, |_| {})
}

#[test]
fn every_ordinary_kind_is_read() {
    let progressive = jpeg(ColorType::Rgb, 3, |e| e.set_progressive(true));
    let grey = jpeg(ColorType::Luma, 1, |_| {});
    let restarts = jpeg(ColorType::Rgb, 3, |e| e.set_restart_interval(4));
    for (name, file) in [
        ("baseline", rgb()),
        ("progressive", progressive),
        ("restarts", restarts),
    ] {
        let colour = decode(&file, Planes::Colour).unwrap();
        assert!(colour.has_colour(), "{name}");
        assert!(colour.channel(0).at(80, 40).abs_diff(160) < 6, "{name}");
        assert!(colour.channel(1).at(80, 40).abs_diff(120) < 6, "{name}");
        let luma = decode(&file, Planes::Luma).unwrap();
        // ITU-R BT.601: 0.299 R + 0.587 G + 0.114 B.
        let expected = (0.299 * 160.0 + 0.587 * 120.0 + 0.114 * 90.0) as u8;
        assert!(luma.grey().at(80, 40).abs_diff(expected) < 6, "{name}");
    }
    let grey = decode(&grey, Planes::Colour).unwrap();
    assert!(!grey.has_colour() && grey.grey().at(80, 40).abs_diff(160) < 6);
}

#[test]
fn all_eight_orientations_show_the_same_ramp_upright() {
    for value in 1..=8_u8 {
        let orientation = Orientation::from_exif(u32::from(value));
        let (w, h) = (usize::from(W), usize::from(H));
        let (sw, sh) = if orientation.swaps_axes() {
            (h, w)
        } else {
            (w, h)
        };
        let mut stored = vec![0; w * h];
        for (i, v) in stored.iter_mut().enumerate() {
            let at = shimwright::frame::PointPx::new((i % sw) as f64, (i / sw) as f64);
            *v = (orientation.to_upright(at, sw, sh).x_px * 2.0) as u8;
        }
        let mut file = Vec::new();
        let mut encoder = Encoder::new(&mut file, 95);
        encoder
            .add_app_segment(1, orientation_block(value))
            .unwrap();
        encoder
            .encode(&stored, sw as u16, sh as u16, ColorType::Luma)
            .unwrap();
        let photo = decode(&file, Planes::Luma).unwrap();
        assert_eq!(
            (photo.width(), photo.height()),
            (w, h),
            "orientation {value}"
        );
        assert_eq!(photo.facts.orientation, orientation);
        for x in [5_usize, 50, 90] {
            let seen = photo.grey().at(x, 30);
            assert!(
                seen.abs_diff(x as u8 * 2) < 6,
                "orientation {value}: {seen} at {x}"
            );
        }
        assert!(
            photo.half().view().at(30, 5).abs_diff(121) < 6,
            "orientation {value}"
        );
    }
}

/// The smallest EXIF block: little-endian TIFF 6.0 with the one tag 0x0112 (short).
fn orientation_block(value: u8) -> Vec<u8> {
    let mut block = b"Exif\0\0II*\0".to_vec();
    block.extend([8, 0, 0, 0, 1, 0, 0x12, 0x01, 3, 0, 1, 0, 0, 0]);
    block.extend([value, 0, 0, 0, 0, 0, 0, 0]);
    block
}

#[test]
fn other_files_are_named_for_what_they_are() {
    for bytes in [
        &b""[..],
        b"\xff",
        b"\xff\xd8",
        b"GIF89a",
        b"\x89PNG\r\n\x1a\n",
        &[0; 4096],
    ] {
        assert_eq!(decode(bytes, Planes::Luma), Err(PhotoError::NotJpeg));
    }
    let cmyk = jpeg(ColorType::Cmyk, 4, |_| {});
    assert_eq!(
        decode(&cmyk, Planes::Luma),
        Err(PhotoError::Unsupported { kind: "CMYK" })
    );
    for (precision, kind) in [(12, "12-bit"), (16, "16-bit")] {
        let deep = patched(|frame| frame[4] = precision);
        assert_eq!(
            decode(&deep, Planes::Luma),
            Err(PhotoError::Unsupported { kind })
        );
    }
    let lossless = patched(|frame| frame[1] = 0xc3);
    assert!(matches!(
        decode(&lossless, Planes::Luma),
        Err(PhotoError::Unsupported { .. })
    ));
    let arithmetic = patched(|frame| frame[1] = 0xc9);
    assert!(matches!(
        decode(&arithmetic, Planes::Luma),
        Err(PhotoError::Unsupported { .. })
    ));
}

/// The file with its frame header (from its marker on) changed.
fn patched(change: impl Fn(&mut [u8])) -> Vec<u8> {
    let mut file = rgb();
    let at = file.windows(2).position(|w| w == [0xff, 0xc0]).unwrap();
    change(&mut file[at..]);
    file
}

fn sized(width: u16, height: u16) -> Vec<u8> {
    patched(|frame| {
        frame[5..7].copy_from_slice(&height.to_be_bytes());
        frame[7..9].copy_from_slice(&width.to_be_bytes());
    })
}

#[test]
fn sizes_are_checked_before_anything_is_decoded() {
    for (width, height) in [
        (0, 80),
        (96, 0),
        (16_000, 12_500),
        (65_535, 65_535),
        (10, 10),
    ] {
        let result = decode(&sized(width, height), Planes::Colour);
        assert!(
            matches!(result, Err(PhotoError::Size { .. })),
            "{width} x {height}: {result:?}"
        );
    }
    let lies = decode(&sized(8000, 6000), Planes::Colour);
    assert!(
        matches!(lies, Err(PhotoError::HeaderLies { .. })),
        "{lies:?}"
    );
}

#[test]
fn a_file_cut_anywhere_is_refused() {
    for file in [rgb(), jpeg(ColorType::Rgb, 3, |e| e.set_progressive(true))] {
        for end in 0..file.len() - 1 {
            let result = decode(&file[..end], Planes::Luma);
            assert!(result.is_err(), "cut at {end} of {}", file.len());
        }
    }
}

#[test]
fn a_damaged_byte_is_an_error_or_a_picture_never_a_crash() {
    let file = rgb();
    for i in 0..file.len() {
        for value in [0x00, 0xff, file[i] ^ 0x10] {
            let mut bad = file.clone();
            bad[i] = value;
            let _ = decode(&bad, Planes::Colour).map(|p| p.half());
        }
    }
}

#[test]
fn requests_are_read_from_json_and_unknown_keys_refused() {
    let text = r#"{"reference":{"kind":"sheet","width_mm":210,"height_mm":297,
        "corners_px":[[1,2],[3,4],[5,6],[7,8]]},"lens_k1":null,
        "taps":[{"kind":"bare","px":[10,20]}],"tears":[{"px":[1,2],"shaft_mm":6.2}],"propose":true}"#;
    let request: MeasureRequest = serde_json::from_str(text).unwrap();
    assert_eq!(request.taps[0].px, PointPx::new(10.0, 20.0));
    assert!(request.propose && request.lens_k1.is_none());
    let back = serde_json::to_string(&request).unwrap();
    assert_eq!(
        serde_json::from_str::<MeasureRequest>(&back).unwrap(),
        request
    );
    for wrong in [
        text.replace("propose", "purpose"),
        text.replace("height_mm", "tall_mm"),
    ] {
        assert!(serde_json::from_str::<MeasureRequest>(&wrong).is_err());
    }
}
