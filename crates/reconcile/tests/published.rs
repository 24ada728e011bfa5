//! Published data sets and worked examples: linear reconciliation, the global and the measurement test, a straight line,
//! weighted means. Each row of the table keeps its id; the source stands beside it.

#![expect(clippy::unwrap_used, reason = "a test that cannot weigh its models must fail")]

use reconcile::{Classical, Evidence, Form, Model, Options, Prior, classical, explain};

/// NIST Statistical Reference Datasets, linear regression, Norris (calibration of ozone monitors): y and x, as published at
/// itl.nist.gov/div898/strd/lls/data/LINKS/DATA/Norris.dat.
const NORRIS: [(f64, f64); 36] = [
    (0.1, 0.2),
    (338.8, 337.4),
    (118.1, 118.2),
    (888.0, 884.6),
    (9.2, 10.1),
    (228.1, 226.5),
    (668.5, 666.3),
    (998.5, 996.3),
    (449.1, 448.6),
    (778.9, 777.0),
    (559.2, 558.2),
    (0.3, 0.4),
    (0.1, 0.6),
    (778.1, 775.5),
    (668.8, 666.9),
    (339.3, 338.0),
    (448.9, 447.5),
    (10.8, 11.6),
    (557.7, 556.0),
    (228.3, 228.1),
    (998.0, 995.8),
    (888.8, 887.6),
    (119.6, 120.2),
    (0.3, 0.3),
    (0.6, 0.3),
    (557.6, 556.8),
    (339.3, 339.1),
    (888.0, 887.2),
    (998.5, 999.0),
    (778.9, 779.0),
    (10.2, 11.1),
    (117.6, 118.3),
    (228.9, 229.2),
    (668.4, 669.1),
    (449.2, 448.9),
    (0.2, 0.5),
];

const NIST: &str = "NIST StRD, Norris, certified values";
const NETWORK: &str = "Narasimhan and Jordache 2000, chapter 1, in the public benchmark EDSONCV/dr-ged-benchmarks, problem \
                       P4; results by numpy 2.4.6";
const NETWORK_WITH_ERROR: &str = "the same network with the reading 68.45 of jckantor/MathProg-Solver, \
                                  examples/DataReconciliation.mod; results by numpy 2.4.6";
const CHAIN: &str = "weighted least squares as in the benchmark above; results by numpy 2.4.6";
const LEAST_SQUARES: &str = "weighted least squares by formula";
const LIMITS: &str = "scipy 1.17.1, chi2.ppf and norm.ppf";

/// What was found beside what the source says, with the tolerance that its printed digits permit.
#[derive(Default)]
struct Table {
    rows: Vec<Row>,
}

struct Row {
    id: &'static str,
    source: &'static str,
    what: String,
    found: f64,
    expected: f64,
    tolerance: f64,
}

impl Table {
    fn row(&mut self, id: &'static str, source: &'static str, what: &str, found: f64, expected: f64, tolerance: f64) {
        self.rows.push(Row { id, source, what: what.to_owned(), found, expected, tolerance });
    }

    fn rows(
        &mut self,
        id: &'static str,
        source: &'static str,
        what: &str,
        found: &[f64],
        expected: &[f64],
        tolerance: f64,
    ) {
        assert_eq!(found.len(), expected.len(), "{id}: {what}");
        for (at, (found, expected)) in found.iter().zip(expected).enumerate() {
            self.row(id, source, &format!("{what} {}", at + 1), *found, *expected, tolerance);
        }
    }

    /// Prints the worst row of each id and fails where one lies outside its tolerance.
    fn check(&self) {
        let share = |row: &Row| (row.found - row.expected).abs() / row.tolerance;
        let mut ids: Vec<&str> = self.rows.iter().map(|row| row.id).collect();
        ids.dedup();
        for id in ids {
            let of: Vec<&Row> = self.rows.iter().filter(|row| row.id == id).collect();
            let worst = of.iter().max_by(|one, other| share(one).total_cmp(&share(other))).unwrap();
            let deviation = (worst.found - worst.expected).abs();
            let Row { what, source, tolerance, .. } = worst;
            println!("{id}: {} values, worst {what} off by {deviation:.1e} of {tolerance:.1e} ({source})", of.len());
        }
        for row in &self.rows {
            assert!(share(row) <= 1.0, "{} {}: {} instead of {}", row.id, row.what, row.found, row.expected);
        }
    }
}

fn broad(standard_deviation: f64) -> Prior {
    Prior { mean: 0.0, standard_deviation, firm: false }
}

/// A model of readings alone: form, value and standard uncertainty.
fn model(unknowns: usize, width: f64, readings: &[(Form, f64, f64)]) -> Model {
    let reading = |(form, value, standard_uncertainty): &(Form, f64, f64)| Evidence {
        form: form.clone(),
        value: *value,
        standard_uncertainty: *standard_uncertainty,
    };
    Model {
        weight: 1.0,
        priors: vec![broad(width); unknowns],
        readings: readings.iter().map(reading).collect(),
        mistakes: vec![],
    }
}

fn reconciled(model: &Model, tested: &Classical) -> Vec<f64> {
    model.readings.iter().zip(&tested.residuals).map(|(reading, residual)| reading.value - residual).collect()
}

fn normalised(tested: &Classical) -> Vec<f64> {
    tested.normalised_residuals.iter().map(|residual| residual.unwrap()).collect()
}

/// Six streams round a heat exchanger with a by-pass: all follow from the two that the first splits into.
fn network(values: [f64; 6]) -> Model {
    let (through, past) = (Form::of(0), Form::of(1));
    let all = through.plus(&past);
    let forms = [all.clone(), through.clone(), past.clone(), through, past, all];
    let readings: Vec<(Form, f64, f64)> =
        forms.into_iter().zip(values).map(|(form, value)| (form, value, 1.0)).collect();
    model(2, 1e4, &readings)
}

/// The model without one of its readings.
fn without(model: &Model, reading: usize) -> Model {
    let mut less = model.clone();
    less.readings.remove(reading);
    less
}

fn networks(table: &mut Table) {
    let values = [101.91, 64.45, 34.65, 64.20, 36.44, 98.88];
    let sound = network(values);
    let tested = classical(&sound).unwrap();
    let mut row =
        |what: &str, found: &[f64], expected: &[f64]| table.rows("D9-03", NETWORK, what, found, expected, 1e-3);
    // The table gives the reconciled flows to a hundredth.
    let flows: Vec<f64> = reconciled(&sound, &tested).iter().map(|flow| (flow * 100.0).round() / 100.0).collect();
    row("flow", &flows, &[100.22, 64.50, 35.72, 64.50, 35.72, 100.22]);
    row("chi-square", &[tested.chi_squared, tested.degrees_of_freedom as f64], &[6.4075, 4.0]);
    row("limit", &[tested.global_limit(0.05).unwrap()], &[9.4877]);
    row("normalised residual", &normalised(&tested), &[2.070, -0.061, -1.311, -0.367, 0.882, -1.641]);
    // The nodal test of one node is the classical test of the readings round it, whose residuals all have the size of
    // the node's imbalance; the sign is that of the first, which flows in.
    let nodal: Vec<f64> = [&[0, 1, 2][..], &[1, 3], &[2, 4], &[3, 4, 5]]
        .iter()
        .map(|round| {
            let node =
                Model { readings: round.iter().map(|at| sound.readings[*at].clone()).collect(), ..sound.clone() };
            let tested = classical(&node).unwrap();
            assert_eq!(tested.degrees_of_freedom, 1);
            assert!((tested.chi_squared.sqrt() - normalised(&tested)[0].abs()).abs() < 1e-9);
            normalised(&tested)[0]
        })
        .collect();
    row("nodal test", &nodal, &[1.622, 0.177, -1.266, 1.016]);

    let wrong = network([101.91, 68.45, 34.65, 64.20, 36.44, 98.88]);
    let tested = classical(&wrong).unwrap();
    let mut row = |what: &str, found: &[f64], expected: &[f64]| {
        table.rows("D9-04", NETWORK_WITH_ERROR, what, found, expected, 1e-3)
    };
    row("flow", &reconciled(&wrong, &tested), &[100.8867, 65.8333, 35.0533, 65.8333, 35.0533, 100.8867]);
    row("chi-square", &[tested.chi_squared], &[16.6742]);
    row("normalised residual", &normalised(&tested), &[1.253, 3.205, -0.494, -2.000, 1.698, -2.458]);
    row("chi-square without stream 2", &[classical(&without(&wrong, 1)).unwrap().chi_squared], &[6.404]);
    assert!(tested.chi_squared > tested.global_limit(0.05).unwrap(), "D9-04 is to be rejected");
}

fn chains(table: &mut Table) {
    let sum = Form::new([(0, 1.0), (1, 1.0)], 0.0);
    let chain = |values: [f64; 3], errors: [f64; 3]| {
        let forms = [Form::of(0), Form::of(1), sum.clone()];
        let readings: Vec<(Form, f64, f64)> = (0..3).map(|at| (forms[at].clone(), values[at], errors[at])).collect();
        model(2, 1e4, &readings)
    };
    let cases = [
        ("D9-11", [300.4, 450.9, 750.0], [0.3, 0.3, 0.5], [300.1279, 450.6279, 750.7558], 3.9302, 1.9825),
        ("D9-12", [62.1, 681.5, 744.6], [0.05, 0.6, 0.6], [62.1035, 681.9983, 744.1017], 1.3841, 1.1765),
    ];
    for (id, values, errors, expected, chi_squared, residual) in cases {
        let chain = chain(values, errors);
        let tested = classical(&chain).unwrap();
        table.rows(id, CHAIN, "length", &reconciled(&chain, &tested), &expected, 1e-3);
        table.row(id, CHAIN, "chi-square", tested.chi_squared, chi_squared, 1e-3);
        // One constraint cannot say which reading is wrong.
        let sizes: Vec<f64> = normalised(&tested).iter().map(|z| z.abs()).collect();
        table.rows(id, CHAIN, "size of the normalised residual", &sizes, &[residual; 3], 1e-3);
        assert_eq!(tested.degrees_of_freedom, 1);
        assert_eq!(tested.chi_squared > tested.global_limit(0.05).unwrap(), id == "D9-11");
    }
}

/// Readings of one unknown by different forms: its value and standard uncertainty, and chi-square.
fn one_unknown(readings: &[(Form, f64, f64)]) -> [f64; 3] {
    // So broad a prior moves the value by less than 1e-9.
    let model = model(1, 1e5, readings);
    let marginal = explain(std::slice::from_ref(&model), &Options::default()).unwrap().marginal(&Form::of(0));
    [marginal.mean(), marginal.standard_deviation(), classical(&model).unwrap().chi_squared]
}

fn weighted_means(table: &mut Table) {
    let chord = |holes: f64, rank: f64, value: f64| {
        (Form::of(0).times((rank * std::f64::consts::PI / holes).sin()), value, 0.1)
    };
    let [circle, uncertainty, chi_squared] = one_unknown(&[chord(5.0, 1.0, 66.95), chord(5.0, 2.0, 108.95)]);
    table.row("D8-08", LEAST_SQUARES, "circle", circle, 114.3759, 1e-4);
    table.row("D8-08", LEAST_SQUARES, "uncertainty", uncertainty, 0.0894, 1e-4);
    table.row("D8-08", LEAST_SQUARES, "chi-square", chi_squared, 10.7147, 1e-4);
    let [circle, _, chi_squared] = one_unknown(&[chord(4.0, 1.0, 70.75), chord(4.0, 2.0, 100.05)]);
    table.row("D8-10", LEAST_SQUARES, "circle", circle, 100.0519, 1e-4);
    table.row("D8-10", LEAST_SQUARES, "chi-square", chi_squared, 0.0010, 1e-4);
    let [circle, uncertainty, _] =
        one_unknown(&[chord(6.0, 1.0, 69.92), chord(6.0, 2.0, 120.95), chord(6.0, 3.0, 139.60)]);
    table.row("D8-11", LEAST_SQUARES, "circle", circle, 139.6529, 1e-4);
    table.row("D8-11", LEAST_SQUARES, "uncertainty", uncertainty, 0.0707, 1e-4);
    let readings = [(35.012, 0.010), (35.020, 0.005), (34.996, 0.020)].map(|(value, u)| (Form::of(0), value, u));
    let [mean, uncertainty, chi_squared] = one_unknown(&readings);
    table.row("D9-13", LEAST_SQUARES, "mean", mean, 35.01733, 1e-5);
    table.row("D9-13", LEAST_SQUARES, "uncertainty", uncertainty, 0.00436, 1e-5);
    // Printed to four places.
    table.row("D9-13", LEAST_SQUARES, "chi-square", chi_squared, 1.7067, 1e-4);
}

fn straight_line(table: &mut Table) {
    const STANDARD_DEVIATION: f64 = 0.884796396144373;
    let line = |x: f64| Form::new([(0, 1.0), (1, x)], 0.0);
    let readings = NORRIS.map(|(y, x)| (line(x), y, 1.0));
    let fitted = model(2, 1.0, &readings);
    let tested = classical(&fitted).unwrap();
    let on_line = reconciled(&fitted, &tested);
    // The line through two reconciled values, those at x = 0.2 and at x = 999.
    let (near, far) = (0, 28);
    let slope = (on_line[far] - on_line[near]) / (NORRIS[far].1 - NORRIS[near].1);
    let intercept = on_line[near] - slope * NORRIS[near].1;
    let mean = NORRIS.iter().map(|(y, _)| y).sum::<f64>() / 36.0;
    let explained: f64 = on_line.iter().map(|y| (y - mean).powi(2)).sum();
    let residual = tested.chi_squared;
    let mut row = |what: &str, found: f64, expected: f64| {
        table.row("D9-02", NIST, what, found, expected, 1e-9 * expected.abs());
    };
    row("intercept", intercept, -0.262323073774029);
    row("slope", slope, 1.00211681802045);
    row("residual sum of squares", residual, 26.6173985294224);
    row("residual standard deviation", (residual / 34.0).sqrt(), STANDARD_DEVIATION);
    row("R squared", explained / (explained + residual), 0.999993745883712);
    row("F", explained / (residual / 34.0), 5436385.54079785);
    assert_eq!(tested.degrees_of_freedom, 34);

    // The posterior with readings as uncertain as the certified residuals say, and priors so broad that they move
    // the intercept and the slope by less than 1e-11 of themselves.
    let readings = NORRIS.map(|(y, x)| (line(x), y, STANDARD_DEVIATION));
    let mut weighed = model(2, 1e5, &readings);
    weighed.priors[1] = broad(1e4);
    let mixture = explain(&[weighed], &Options::default()).unwrap();
    let (intercept, slope) = (mixture.marginal(&Form::of(0)), mixture.marginal(&Form::of(1)));
    row("posterior mean of the intercept", intercept.mean(), -0.262323073774029);
    row("posterior mean of the slope", slope.mean(), 1.00211681802045);
    row("standard error of the intercept", intercept.standard_deviation(), 0.232818234301152);
    row("standard error of the slope", slope.standard_deviation(), 0.429796848199937e-3);
}

fn limits(table: &mut Table) {
    let with = |degrees_of_freedom, count| Classical {
        chi_squared: 0.0,
        degrees_of_freedom,
        residuals: vec![0.0; count],
        normalised_residuals: vec![Some(0.0); count],
    };
    let at = |significance: f64, degrees: &[usize]| -> Vec<f64> {
        degrees.iter().map(|degrees| with(*degrees, 1).global_limit(significance).unwrap()).collect()
    };
    let expected = [3.8415, 5.9915, 7.8147, 9.4877, 11.0705, 12.5916];
    table.rows("D9-05", LIMITS, "chi-square 95 %", &at(0.05, &[1, 2, 3, 4, 5, 6]), &expected, 1e-4);
    table.rows("D9-05", LIMITS, "chi-square 99 %", &at(0.01, &[1, 4]), &[6.6349, 13.2767], 1e-4);
    // One residual alone has the two-sided limit of the normal distribution; several share the level (Šidák 1967).
    let one = |significance: f64| with(1, 1).residual_limit(significance).unwrap();
    let quantiles = [one(0.2), one(0.1), one(0.05), one(0.01)];
    table.rows("D9-06", LIMITS, "normal quantile", &quantiles, &[1.281552, 1.644854, 1.959964, 2.575829], 1e-6);
    let shared = with(1, 6).residual_limit(1.0 - 0.95_f64.powi(6)).unwrap();
    table.row("D9-06", LIMITS, "limit of six residuals", shared, 1.959964, 1e-6);
    assert_eq!(with(0, 1).global_limit(0.05), None);
    assert_eq!(with(1, 0).residual_limit(0.05), None);
    assert_eq!(with(1, 1).global_limit(1.0), None);
}

#[test]
fn published_examples_come_out_as_printed() {
    let mut table = Table::default();
    straight_line(&mut table);
    networks(&mut table);
    limits(&mut table);
    chains(&mut table);
    weighted_means(&mut table);
    table.check();
}
