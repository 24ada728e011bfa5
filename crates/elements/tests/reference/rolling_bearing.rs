//! Rolling bearings against ISO tables, solution manuals and textbook examples.

use elements::rolling_bearing::{
    BallSeries, BearingError, BearingLoad, DutyStep, LifeDistribution, LifeEdition, RollingElement, ball_bearing_size,
    ball_equivalent, ball_factors, ball_static_equivalent, life_hours, mean_load, opposed_axial_loads, rating_for_life,
    rating_for_reliability, rating_life, reliability_factor, reliability_reached, static_safety, tapered_bearing_size,
    tapered_equivalent, tapered_induced, tapered_static_equivalent,
};

use crate::table::{Standing, Table};

const SOURCE: &str = "ISO 281:2007 and :1990 tables as public transcriptions give them; Budynas & \
     Nisbett solution manual, problems 11-1 and 11-2; Jindal, Machine Design, examples 18-2, 18-4 \
     and 18-9; Wentzell, Machine Design, example 20.1; ISO 15 and ISO 355 rows of public tables; \
     numpy.interp on the ISO table";

const BALL: RollingElement = RollingElement::Ball;

fn factor_rows(table: &mut Table) {
    let loads = [0.172, 0.345, 0.689, 1.03, 1.38, 2.07, 3.45, 5.17, 6.89];
    let limits = [0.19, 0.22, 0.26, 0.28, 0.30, 0.34, 0.38, 0.42, 0.44];
    let axial = [2.30, 1.99, 1.71, 1.55, 1.45, 1.31, 1.15, 1.04, 1.00];
    for ((load, e), y) in loads.into_iter().zip(limits).zip(axial) {
        let got = ball_factors(load).unwrap();
        for (what, got, expected) in [("e", got.e, e), ("X", got.x, 0.56), ("Y", got.y, y)] {
            let what = format!("{what} at {load}");
            // At a node the interpolation adds a difference of two table values to a third.
            table.within("D5-01", what, got, expected, 1e-15, Standing::Published);
        }
    }
}

struct Groove {
    id: &'static str,
    static_rating: f64,
    dynamic_rating: f64,
    load: BearingLoad,
    speed: f64,
    /// f0·Fa/C0, e, Y, P, life in Mrev, hours, P0, s0.
    expected: [f64; 8],
}

fn groove_rows(table: &mut Table) {
    for row in [
        Groove {
            id: "D5-02",
            static_rating: 17.8,
            dynamic_rating: 30.7,
            load: BearingLoad { radial: 4.0, axial: 1.5 },
            speed: 700.0,
            expected: [1.1798, 0.2886, 1.5072, 4.5008, 317.35, 7556.0, 4.000, 4.450],
        },
        Groove {
            id: "D5-03",
            static_rating: 20.4,
            dynamic_rating: 33.2,
            load: BearingLoad { radial: 5.0, axial: 0.6 },
            speed: 600.0,
            expected: [0.4118, 0.2278, 1.9357, 5.0000, 292.75, 8132.0, 5.000, 4.080],
        },
    ] {
        let relative = 14.0 * row.load.axial / row.static_rating;
        let factors = ball_factors(relative).unwrap();
        let equivalent = ball_equivalent(row.load, row.static_rating, 14.0).unwrap();
        let life = rating_life(row.dynamic_rating, equivalent, BALL).unwrap();
        let at_rest = ball_static_equivalent(row.load).unwrap();
        let got = [
            relative,
            factors.e,
            factors.y,
            equivalent,
            life,
            life_hours(life, row.speed).unwrap(),
            at_rest,
            static_safety(row.static_rating, at_rest).unwrap(),
        ];
        let names = ["relative load", "e", "Y", "P", "life", "hours", "P0", "s0"];
        for ((what, got), expected) in names.into_iter().zip(got).zip(row.expected) {
            table.within_share(row.id, what, got, expected, 1e-3, Standing::Computed);
        }
    }
    // The example reads e and Y at Fa/C0 = 0.2 from a table without f0. That table is the ISO one
    // with its first column divided by the f0 of a common bearing: the rows around it, 0.17 and
    // 0.28, are 2.07 and 3.45 there, so that 0.2 is 2.446 and f0 is 12.23. The example rounds Y to
    // 1.27 before it multiplies.
    let load = BearingLoad { radial: 5.0, axial: 2.0 };
    let factors = ball_factors(12.23 * 2.0 / 10.0).unwrap();
    let equivalent = ball_equivalent(load, 10.0, 12.23).unwrap();
    assert!(factors.e > 0.34 && factors.e < 0.38);
    table.within("D5-04", "Y", factors.y, 1.27, 5e-3, Standing::Published);
    table.within("D5-04", "P", equivalent, 5.34, 0.01, Standing::Published);
}

fn life_rows(table: &mut Table) {
    let textbook = LifeDistribution::TEXTBOOK;
    let standing = Standing::Published;
    for (id, load, life, rating, tolerance, with, reached) in [
        ("D5-05", 1.2 * 1.898, 540.0, 18.59, 0.01, 19.5, 0.919),
        // Pounds in, pounds out; the second rating is in kilonewtons.
        ("D5-06", 1.4 * 610.0, 1440.0, 9665.0, 5.0, 46.2 / 0.004_448_222, 0.927),
    ] {
        let got = rating_for_reliability(load, life, 0.90, textbook, BALL).unwrap();
        table.within(id, "rating", got, rating, tolerance, standing);
        let got = reliability_reached(with, load, life, textbook, BALL).unwrap();
        table.within(id, "reliability", got, reached, 5e-4, standing);
    }
    let million = |hours: f64, speed: f64| hours * 60.0 * speed / 1e6;
    table.within("D5-05", "life", million(30e3, 300.0), 540.0, 1e-9, standing);

    // The example's rotation factor V is 1, then 1.2.
    for (rotation, expected) in [(1.0, 57.3), (1.2, 43.46)] {
        let equivalent = 0.56 * rotation * 1250.0 + 1.2 * 625.0;
        let got = rating_life(5590.0, equivalent, BALL).unwrap();
        let what = format!("life with V {rotation}");
        table.within("D5-07", what, got, expected, 0.1, standing);
    }
    let life = rating_life(41.0, 20.0, BALL).unwrap();
    let hours = life_hours(life, 720.0).unwrap();
    table.within("D5-08", "hours", hours, 199.4, 0.1, standing);

    let steps = [(3e3, 1440.0, 0.25), (4e3, 1080.0, 0.5), (5e3, 720.0, 0.25)]
        .map(|(load, speed_rev_per_min, time)| DutyStep { load, speed_rev_per_min, time });
    let mean = mean_load(&steps, BALL).unwrap();
    let life = million(10e3, mean.speed_rev_per_min);
    let rating = rating_for_life(mean.load, life, BALL).unwrap();
    table.within("D5-09", "speed", mean.speed_rev_per_min, 1080.0, 1e-9, standing);
    table.within("D5-09", "load", mean.load, 3954.3, 1.0, standing);
    table.within("D5-09", "rating", rating, 34_219.0, 1.0, standing);

    let life = rating_life(5050.0, 2400.0, BALL).unwrap();
    let hours = life_hours(life, 1750.0).unwrap();
    table.within("D5-10", "hours", hours, 88.73, 0.01, standing);

    let steps = [(2.0, 400.0, 0.6), (4.0, 600.0, 0.3), (8.0, 300.0, 0.1)]
        .map(|(load, speed_rev_per_min, time)| DutyStep { load, speed_rev_per_min, time });
    let mean = mean_load(&steps, BALL).unwrap();
    let standing = Standing::Computed;
    table.within_share("D5-15", "speed", mean.speed_rev_per_min, 450.0, 1e-4, standing);
    table.within_share("D5-15", "load", mean.load, 4.0, 1e-4, standing);
}

fn reliability_rows(table: &mut Table) {
    let percents = [90.0, 95.0, 96.0, 97.0, 98.0, 99.0];
    for (id, edition, printed) in [
        ("D5-11", LifeEdition::Iso281Of2007, [1.0, 0.64, 0.55, 0.47, 0.37, 0.25]),
        ("D5-12", LifeEdition::Iso281Of1990, [1.0, 0.62, 0.53, 0.44, 0.33, 0.21]),
    ] {
        for (percent, expected) in percents.into_iter().zip(printed) {
            let got = reliability_factor(percent, edition).unwrap();
            let what = format!("a1 at {percent} %");
            table.within(id, what, got, expected, 0.0, Standing::Published);
            // The Weibull formulas from which the tables were rounded to two digits.
            let weibull = ((100.0 / percent).ln() / (1.0_f64 / 0.9).ln()).powf(2.0 / 3.0);
            let formula = match edition {
                LifeEdition::Iso281Of2007 => 0.05 + 0.95 * weibull,
                LifeEdition::Iso281Of1990 => weibull,
            };
            let what = format!("a1 at {percent} % by formula");
            table.within(id, what, got, formula, 6e-3, Standing::Computed);
        }
    }
}

fn tapered_rows(table: &mut Table) {
    for (id, axial, equivalent, life, hours) in
        [("D5-13", 3.0, 7.2000, 1280.84, 42_695.0), ("D5-14", 2.0, 6.0000, 2351.97, 78_399.0)]
    {
        let load = BearingLoad { radial: 6.0, axial };
        let got = tapered_equivalent(load, 0.37, 1.6).unwrap();
        let got_life = rating_life(61.6, got, RollingElement::Roller).unwrap();
        for (what, got, expected) in [
            ("induced", tapered_induced(6.0, 1.6).unwrap(), 1.8750),
            ("P", got, equivalent),
            ("life", got_life, life),
            ("hours", life_hours(got_life, 500.0).unwrap(), hours),
        ] {
            table.within_share(id, what, got, expected, 1e-3, Standing::Computed);
        }
    }
}

fn size_rows(table: &mut Table) {
    let standing = Standing::Published;
    for (series, bore, outside, width) in [
        (BallSeries::ZeroTwo, 25.0, 52.0, 15.0),
        (BallSeries::ZeroTwo, 30.0, 62.0, 16.0),
        (BallSeries::ZeroTwo, 35.0, 72.0, 17.0),
        (BallSeries::ZeroTwo, 40.0, 80.0, 18.0),
        (BallSeries::ZeroThree, 35.0, 80.0, 21.0),
    ] {
        let got = ball_bearing_size(series, bore).unwrap();
        let what = format!("{series:?} {bore}");
        table.within("D5-16", &what, got.outside_mm, outside, 0.0, standing);
        table.within("D5-16", &what, got.width_mm, width, 0.0, standing);
    }
    for (bore, outside, assembled, inner, outer) in
        [(25.0, 52.0, 16.25, 15.0, 13.0), (30.0, 62.0, 17.25, 16.0, 14.0), (35.0, 72.0, 18.25, 17.0, 15.0)]
    {
        let got = tapered_bearing_size(bore).unwrap();
        for (got, expected) in [
            (got.outside_mm, outside),
            (got.assembled_width_mm, assembled),
            (got.inner_width_mm, inner),
            (got.outer_width_mm, outer),
        ] {
            let what = format!("tapered {bore}");
            table.within("D5-17", what, got, expected, 0.0, standing);
        }
    }
}

#[test]
fn bearings_agree_with_iso_tables_and_textbooks() {
    let mut table = Table::new("rolling_bearing", SOURCE);
    factor_rows(&mut table);
    groove_rows(&mut table);
    life_rows(&mut table);
    reliability_rows(&mut table);
    tapered_rows(&mut table);
    size_rows(&mut table);
    table.finish(&[
        "D5-01", "D5-02", "D5-03", "D5-04", "D5-05", "D5-06", "D5-07", "D5-08", "D5-09", "D5-10", "D5-11", "D5-12",
        "D5-13", "D5-14", "D5-15", "D5-16", "D5-17",
    ]);
}

#[test]
fn loads_outside_the_tables_are_refused() {
    assert!(matches!(ball_factors(6.9), Err(BearingError::Range { .. })));
    assert!(matches!(reliability_factor(92.0, LifeEdition::Iso281Of2007), Err(BearingError::Reliability { .. })));
    assert_eq!(mean_load(&[], BALL), Err(BearingError::NoDuty));
    assert!(matches!(ball_bearing_size(BallSeries::ZeroTwo, 41.0), Err(BearingError::NoSize { .. })));
    for bad in [f64::NAN, f64::INFINITY, -1.0] {
        let load = BearingLoad { radial: bad, axial: 1.0 };
        assert!(ball_equivalent(load, 20.0, 14.0).is_err());
        assert!(tapered_static_equivalent(load, 0.9).is_err());
        assert!(rating_life(bad, 1.0, BALL).is_err());
    }
    // A pure radial load needs no axial row.
    let radial = BearingLoad { radial: 5.0, axial: 0.0 };
    assert_eq!(ball_equivalent(radial, 20.0, 14.0), Ok(5.0));
}

/// Statics: whatever pushes, the shaft is in balance, no bearing is unloaded below what it makes itself, and one of them carries
/// just that.
#[test]
fn statics_of_the_shaft_hold_for_every_pair_of_tapered_bearings() {
    for own in [0.0, 0.4, 1.0, 2.5] {
        for other in [0.0, 0.7, 1.0, 3.0] {
            for outside in [0.0, 0.3, 1.6, 5.0] {
                let loads = opposed_axial_loads(own, other, outside).unwrap();
                assert!((loads.pushed - loads.other - outside).abs() < 1e-12);
                assert!(loads.pushed >= own && loads.other >= other);
                assert!(loads.pushed == own || loads.other == other);
            }
        }
    }
    assert!(matches!(opposed_axial_loads(1.0, 1.0, -1.0), Err(BearingError::Negative { .. })));
}
