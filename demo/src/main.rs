//! Shimwright without a phone: the whole job on photographs, and the parts of it for scripts.
mod palette;
mod svg;
mod words;

fn main() {
    use shimwright::scene::*;
    let a = |l: f64, r: f64, p: &str| AxleView {
        left_mm: l,
        right_mm: r,
        pair: p.into(),
    };
    let from = BowView {
        top: a(2.5, 1.9, "C"),
        bottom: a(2.5, 1.9, "C"),
    };
    let to = BowView {
        top: a(1.3, 3.1, "A"),
        bottom: a(1.9, 2.5, "C"),
    };
    for (name, scene, width) in [
        ("axle", axle_scene(&from.top), 600.0),
        ("tile", bow_tile_scene(&to), 150.0),
        ("bow", bow_scene(&to), 600.0),
        ("swap", swap_scene(&from, &to), 1000.0),
    ] {
        let doc = svg::svg(&scene, width, None);
        std::fs::write(format!("demo/out/{name}.svg"), &doc).unwrap();
        std::fs::write(format!("demo/out/{name}.png"), svg::png(&doc).unwrap()).unwrap();
    }
}
