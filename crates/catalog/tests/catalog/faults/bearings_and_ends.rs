//! Faults of bearings and housing ends whose dimensions do not go together.

use crate::files::expect_fault;

fn bearing(rest: &str) -> String {
    format!("[[bearing]]\nname = \"40x80x18 ball\"\n{rest}\nsource = \"shop: x\"\n")
}

#[test]
fn bearings() {
    let file = "bearings.toml";
    expect_fault(
        file,
        &bearing("bore = §\"80 mm\""),
        "the bore is not smaller than the outside",
        "smaller than the outside",
    );
    expect_fault(
        file,
        // The fault stands at the row where the shop gave the outside and not the bore.
        &format!("§{}", bearing("outside = \"40 mm\"")),
        "the bore is not smaller than the outside",
        "smaller than the outside",
    );
    expect_fault(
        file,
        &bearing("race_offset = §{ mean = \"18 mm\" }"),
        "the rings would stand clear of each other",
        "smaller than the wider ring",
    );
    expect_fault(
        file,
        &bearing("seat_interference = §[\"0.01 mm\", \"40 mm\"]"),
        "would burst the ring",
        "the difference of two diameters",
    );
    expect_fault(
        file,
        &bearing("seat_interference = [\"§-0.01 mm\", \"0.03 mm\"]"),
        "a length is not negative",
        "a length of nought or more",
    );
    expect_fault(file, &bearing("kind = §\"bal\""), "did you mean \"ball\"?", "\"ball\", \"tapered\"");
    expect_fault(file, &bearing("inner_width = §\"0 mm\""), "a size of nothing", "larger than 0");
    expect_fault(file, &bearing("width_deviation = §\"0 mm\""), "a size of nothing", "larger than 0");
    expect_fault(file, &bearing("race_offset = { deviation = §\"0 mm\" }"), "a size of nothing", "larger than 0");
}

fn end(rest: &str) -> String {
    format!("[[housing_end]]\nname = \"72 mm bore, 3.10 x 2.15 in\"\n{rest}\nsource = \"shop: x\"\n")
}

#[test]
fn housing_ends() {
    let file = "housing_ends.toml";
    expect_fault(
        file,
        &end("bolt_rectangle_short = §'3.5\"'"),
        "the short side is the longer one",
        "a short side up to the long side",
    );
    expect_fault(
        file,
        &end("bolt_hole = §'1\"'"),
        "the bolt holes would break into the bearing bore",
        "a diagonal larger than bore and bolt hole together",
    );
    expect_fault(file, &end("bore_depth = { mean = §'0\"' }"), "a size of nothing", "larger than 0");
}

#[test]
fn ratings_are_given_whole() {
    let file = "bearings.toml";
    expect_fault(
        file,
        &bearing("rating = §{ dynamic_kn = 30.7, static_kn = 17.8, source = \"shop: x\" }"),
        "`f0` is missing",
        "f0 = …",
    );
    expect_fault(
        file,
        &bearing("rating = { dynamic_kn = 30.7, static_kn = 17.8, f0 = §140, source = \"shop: x\" }"),
        "`f0` lies outside its limits",
        "10 to 20",
    );
    expect_fault(
        file,
        &bearing("rating = { dynamic_kn = §-1, static_kn = 17.8, f0 = 14, source = \"shop: x\" }"),
        "-1 is out of range",
        "up to 1000",
    );
}
