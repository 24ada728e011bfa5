//! Bolt circles against chord tables and hand arithmetic.

use elements::bolt_circle::{
    BoltCircleError, ChordReading, best_circle, chord, chord_from_edges, chord_ratio, circle_from_chord,
    circle_uncertainty, exact_short_cut_hole, far_edge_span, hole_diameter_from_edges, near_edge_gap, short_cut_error,
    short_cut_reading,
};

use crate::table::{Standing, Table};

const SOURCE: &str = "the handbook table of hole-spacing constants sin(180°/n) (chord page of \
     engineeringtoolbox.com for even counts) and weighted least squares worked out apart";

struct Edges {
    id: &'static str,
    holes: u32,
    hole: f64,
    circle: f64,
    rank: u32,
    gap: f64,
    span: f64,
    centres: f64,
    circle_error: f64,
}

const EDGES: [Edges; 5] = [
    Edges {
        id: "D8-03",
        holes: 5,
        hole: 12.7,
        circle: 114.3,
        rank: 1,
        gap: 54.4839,
        span: 79.8839,
        centres: 67.1839,
        circle_error: 0.1701,
    },
    Edges {
        id: "D8-04",
        holes: 5,
        hole: 12.7,
        circle: 114.3,
        rank: 2,
        gap: 96.0058,
        span: 121.4058,
        centres: 108.7058,
        circle_error: 0.1051,
    },
    Edges {
        id: "D8-05",
        holes: 6,
        hole: 12.0,
        circle: 139.7,
        rank: 1,
        gap: 57.8500,
        span: 81.8500,
        centres: 69.8500,
        circle_error: 0.2000,
    },
    Edges {
        id: "D8-06",
        holes: 4,
        hole: 12.0,
        circle: 100.0,
        rank: 1,
        gap: 58.7107,
        span: 82.7107,
        centres: 70.7107,
        circle_error: 0.1414,
    },
    Edges {
        id: "D8-07",
        holes: 6,
        hole: 12.7,
        circle: 114.3,
        rank: 2,
        gap: 86.2867,
        span: 111.6867,
        centres: 98.9867,
        circle_error: 0.1155,
    },
];

struct Best {
    id: &'static str,
    holes: u32,
    chords: &'static [(u32, f64)],
    diameter: f64,
    uncertainty: Option<f64>,
    chi_square: Option<f64>,
}

const BEST: [Best; 3] = [
    Best {
        id: "D8-08",
        holes: 5,
        chords: &[(1, 66.95), (2, 108.95)],
        diameter: 114.3759,
        uncertainty: Some(0.0894),
        chi_square: Some(10.7147),
    },
    Best {
        id: "D8-10",
        holes: 4,
        chords: &[(1, 70.75), (2, 100.05)],
        diameter: 100.0519,
        uncertainty: None,
        chi_square: Some(0.0010),
    },
    Best {
        id: "D8-11",
        holes: 6,
        chords: &[(1, 69.92), (2, 120.95), (3, 139.60)],
        diameter: 139.6529,
        uncertainty: Some(0.0707),
        chi_square: None,
    },
];

#[test]
#[expect(clippy::approx_constant, reason = "the constants are typed as the handbook prints them")]
fn chords_and_circles_agree_with_the_handbook_constants_and_hand_arithmetic() {
    let mut table = Table::new("bolt_circle", SOURCE);
    for (holes, ratio, standing) in [
        (3, 0.866_025, Standing::Computed),
        (4, 0.707_107, Standing::Published),
        (5, 0.587_785, Standing::Computed),
        (6, 0.500_000, Standing::Published),
    ] {
        let got = chord_ratio(holes, 1).unwrap();
        table.within("D8-01", format!("c1/D of {holes}"), got, ratio, 1e-6, standing);
    }
    for (holes, ratio) in [(5, 0.951_057), (6, 0.866_025), (8, 0.707_107)] {
        let got = chord_ratio(holes, 2).unwrap();
        let what = format!("c2/D of {holes}");
        table.within("D8-02", what, got, ratio, 1e-6, Standing::Computed);
    }
    for row in &EDGES {
        let gap = near_edge_gap(row.circle, row.holes, row.rank, row.hole).unwrap();
        let span = far_edge_span(row.circle, row.holes, row.rank, row.hole).unwrap();
        let centres = chord(row.circle, row.holes, row.rank).unwrap();
        // Back from the printed edges, not from our own: a way out and home would hide an error.
        let printed_centres = chord_from_edges(row.gap, row.span).unwrap();
        let back = circle_from_chord(printed_centres, row.holes, row.rank).unwrap();
        let hole = hole_diameter_from_edges(row.gap, row.span).unwrap();
        let error = circle_uncertainty(0.10, row.holes, row.rank).unwrap();
        for (what, got, expected) in [
            ("gap", gap, row.gap),
            ("span", span, row.span),
            ("centres", centres, row.centres),
            ("circle back", back, row.circle),
            ("hole", hole, row.hole),
            ("error of the circle", error, row.circle_error),
        ] {
            table.within(row.id, what, got, expected, 1e-4, Standing::Computed);
        }
    }
    for row in &BEST {
        let readings: Vec<ChordReading> =
            row.chords.iter().map(|&(rank, chord)| ChordReading { rank, chord, standard_uncertainty: 0.10 }).collect();
        let best = best_circle(row.holes, &readings).unwrap();
        assert_eq!(best.degrees_of_freedom, row.chords.len() - 1);
        for (what, got, expected) in [
            ("best circle", best.diameter, Some(row.diameter)),
            ("its uncertainty", best.standard_uncertainty, row.uncertainty),
            ("chi-square", best.chi_square, row.chi_square),
        ] {
            if let Some(expected) = expected {
                table.within(row.id, what, got, expected, 1e-4, Standing::Computed);
            }
        }
    }
    for (rank, chord, expected) in [(1, 66.95, 113.9021), (2, 108.95, 114.5568)] {
        let alone = circle_from_chord(chord, 5, rank).unwrap();
        let what = format!("circle from rank {rank} alone");
        table.within("D8-08", what, alone, expected, 1e-4, Standing::Computed);
    }
    for (what, got, expected) in [
        ("reading", short_cut_reading(114.3, 5, 12.7), 115.056),
        ("error", short_cut_error(114.3, 5, 12.7), 0.756),
        ("exact hole", exact_short_cut_hole(114.3, 5), 11.188),
    ] {
        table.within("D8-09", what, got.unwrap(), expected, 1e-3, Standing::Computed);
    }
    table.finish(&["D8-01", "D8-02", "D8-03", "D8-04", "D8-05", "D8-06", "D8-07", "D8-08", "D8-09", "D8-10", "D8-11"]);
}

#[test]
fn the_opposite_hole_of_an_even_count_stands_exactly_one_circle_away() {
    for holes in [2, 4, 6, 8, 10] {
        assert_eq!(chord(114.3, holes, holes / 2), Ok(114.3));
    }
}

#[test]
fn what_cannot_be_a_bolt_circle_is_refused_with_the_range() {
    assert_eq!(chord_ratio(5, 3), Err(BoltCircleError::Rank { holes: 5, rank: 3, highest: 2 }));
    assert!(matches!(chord_ratio(5, 0), Err(BoltCircleError::Rank { rank: 0, .. })));
    assert_eq!(chord_ratio(1, 1), Err(BoltCircleError::Holes { holes: 1 }));
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(chord(bad, 5, 1), Err(BoltCircleError::Length { .. })));
        assert!(matches!(circle_from_chord(bad, 5, 1), Err(BoltCircleError::Length { .. })));
    }
    assert!(matches!(near_edge_gap(100.0, 6, 2, 50.0), Err(BoltCircleError::HolesTouch { .. })));
    assert!(matches!(chord_from_edges(60.0, 60.0), Err(BoltCircleError::SpanBelowGap { .. })));
    assert_eq!(best_circle(5, &[]), Err(BoltCircleError::NoChord));
    let message = chord_ratio(5, 3).unwrap_err().to_string();
    assert!(message.contains("1 to 2 places"), "{message}");
}
