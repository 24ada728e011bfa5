//! `axlewright bolt-circle`.

use crate::program::{assert_numbers, assert_refused, json, page, quantity};

/// Rows D8-03 to D8-07. Source: chord of a circle, `sin(kπ/n)`; the values are computed from it and printed to 0.0001 mm.
#[test]
fn the_chord_of_a_circle_from_centres_and_from_edges() {
    for (row, holes, pair, hole, gap, span, chord, circle, spread) in [
        ("D8-03", 5, "adjacent", 12.7, 54.4839, 79.8839, 67.1839, 114.3, 0.1701),
        ("D8-04", 5, "alternate", 12.7, 96.0058, 121.4058, 108.7058, 114.3, 0.1051),
        ("D8-05", 6, "adjacent", 12.0, 57.8500, 81.8500, 69.8500, 139.7, 0.2000),
        ("D8-06", 4, "adjacent", 12.0, 58.7107, 82.7107, 70.7107, 100.0, 0.1414),
        ("D8-07", 6, "alternate", 12.7, 86.2867, 111.6867, 98.9867, 114.3, 0.1155),
    ] {
        let start = format!("bolt-circle --holes {holes} --uncertainty 0.10 mm");
        let output = json(&format!("{start} --{pair} {chord} mm --hole {hole} mm"));
        let distance = |edge: &str| {
            let key = if pair == "adjacent" { format!("adjacent_{edge}") } else { format!("{edge}_two_places_apart") };
            format!("distances_on_this_circle/{key}/value/millimetres")
        };
        let expected = [
            ("circle/diameter/value/millimetres", circle),
            ("circle/standard_uncertainty/value/millimetres", spread),
            (&distance("centres"), chord),
            (&distance("near_edges"), gap),
            (&distance("far_edges"), span),
        ];
        assert_numbers(row, &output, &expected, 2e-4);
        for line in [
            format!("{start} --edges-of {pair} --edge-gap {gap} mm --edge-span {span} mm"),
            format!("{start} --edges-of {pair} --edge-gap {gap} mm --hole {hole} mm"),
            format!("{start} --edges-of {pair} --edge-span {span} mm --hole {hole} mm"),
        ] {
            let output = json(&line);
            assert_numbers(row, &output, &[("circle/diameter/value/millimetres", circle)], 2e-4);
            assert_numbers(row, &output, &[("readings/hole/value/millimetres", hole)], 1e-4);
        }
    }
}

/// Rows D8-08, D8-10 and D8-11. Source: weighted least squares, computed from the formulas and printed to 0.0001.
#[test]
fn weighted_least_squares_over_several_chords() {
    let output = json("bolt-circle --holes 5 --adjacent 66.95 mm --alternate 108.95 mm --uncertainty 0.10 mm");
    let expected = [
        ("circle/diameter/value/millimetres", 114.3759),
        ("circle/standard_uncertainty/value/millimetres", 0.0894),
        ("readings/adjacent_circle/value/millimetres", 113.9021),
        ("readings/alternate_circle/value/millimetres", 114.5568),
        ("circle/chi_square/value/number", 10.7147),
        // Row D9-05: 95 % of chi-square with one degree of freedom.
        ("circle/chi_square_limit/value/number", 3.8415),
    ];
    assert_numbers("D8-08", &output, &expected, 1e-4);
    assert_eq!(quantity(&output, "circle", "the_readings")["words"], "contradict each other: measure again");

    let output = json("bolt-circle --holes 4 --adjacent 70.75 mm --opposite 100.05 mm --uncertainty 0.1 mm");
    let expected = [("circle/diameter/value/millimetres", 100.0519), ("circle/chi_square/value/number", 0.0010)];
    assert_numbers("D8-10", &output, &expected, 1e-4);
    assert_eq!(quantity(&output, "circle", "the_readings")["words"], "agree");

    let line =
        "bolt-circle --holes 6 --adjacent 69.92 mm --alternate 120.95 mm --opposite 139.60 mm --uncertainty 0.1 mm";
    let expected =
        [("circle/diameter/value/millimetres", 139.6529), ("circle/standard_uncertainty/value/millimetres", 0.0707)];
    assert_numbers("D8-11", &json(line), &expected, 1e-4);
}

#[test]
fn the_nearest_circles_are_named_and_not_taken() {
    let output = json("bolt-circle --holes 5 --adjacent 2.793 in");
    // 2.793 in over sin 36° is 4.7517 in, two thousandths above a circle of 4 3/4 in.
    assert_numbers("by hand", &output, &[("circle/diameter/value/inches", 4.7517)], 1e-4);
    let nearest = ("nearest_circles_of_the_catalog/nearest/value/inches", 4.75);
    assert_numbers("by hand", &output, &[nearest], 1e-9);
    assert!(output["taken"][0].as_str().unwrap().contains("caliper"), "{output}");
    assert!(page("bolt-circle --holes 7 --adjacent 50 mm").contains("The catalog has no circle of 7 holes."));
}

#[test]
fn what_cannot_be_used_is_placed_and_answered() {
    assert_refused("bolt-circle --holes 5", &["--adjacent: no distance of holes is given"]);
    assert_refused("bolt-circle --holes 5 --adjacent 2.793", &["--adjacent: ", "accepted: the number with its unit"]);
    assert_refused("bolt-circle --holes 5 --opposite 4.5 in", &["--opposite: 5 holes have no opposite pair"]);
    assert_refused("bolt-circle --holes 3 --alternate 4.5 in", &["--alternate: 3 holes have no alternate pair"]);
    assert_refused("bolt-circle --holes 1 --adjacent 4.5 in", &["--holes: a bolt circle of 1 holes", "2 to 360"]);
    assert_refused("bolt-circle --holes five --adjacent 4.5 in", &["--holes: this is no whole number"]);
    assert_refused("bolt-circle --holes 5 --edge-gap 2.3 in", &["--hole: one edge gives"]);
    assert_refused("bolt-circle --holes 5 --edge-gap 3.1 in --edge-span 2.3 in", &["--edge-span: the span over"]);
    assert_refused(
        "bolt-circle --holes 5 --edge-gap 2.3 in --edge-span 3.3 in --hole 0.5 in",
        &["--hole: gap and span give the hole already"],
    );
    assert_refused("bolt-circle --holes 5 --adjacent 2.793 in --hole 3 in", &["--hole: holes of diameter"]);
    assert_refused("bolt-circle --holes 5 --adjacent 2.793 in --edges-of opposite", &["--edges-of: no edge is given"]);
    assert_refused(
        "bolt-circle --holes 5 --adjacent 2.793 in --instrument calliper",
        &["is no instrument of the catalog, did you mean \"caliper\"?", "accepted: "],
    );
    assert_refused(
        "bolt-circle --holes 5 --adjacent 2.793 in --uncertainty 0 mm",
        &["--uncertainty: a length of nought"],
    );
    assert_refused("bolt-circle --holes 5 --adjacent 2.793 in --catalog nowhere", &["there is no such file or folder"]);
}

/// Regression: the shape of a page that was looked at and found good.
#[test]
fn the_page_keeps_its_shape() {
    let line = "bolt-circle --holes 5 --adjacent 66.95 mm --alternate 108.95 mm --uncertainty 0.10 mm";
    insta::assert_snapshot!("bolt_circle_two_distances", page(line));
    insta::assert_snapshot!("bolt_circle_inch", page("bolt-circle --holes 5 --adjacent 2.793 in"));
}
