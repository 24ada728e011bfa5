//! The proof of an order as a picture: stress and safety along the shaft, in SVG.
//!
//! The picture is made of text alone; who asks for it decides where it goes. It holds the shaft with its sections at their
//! distances from the wheel face, and below it three panels: stress, safety against yielding, and safety against fatigue. In
//! each every load case has a curve with every open input at its harsh end; a band reaches from the worst of them to the
//! worst at the mild end, and the least safety that passes is a line. Only the sections are computed.

mod distance_axis;
mod panel;
mod shaft_outline;
mod station_labels;
mod style;
mod svg;
mod value_axis;

use axle::{CaseProof, DimensionKind, Proof, ProofKind, Review, StationProof};
use quantity::{KSI_MPA, Leading, LengthExt};

use distance_axis::DistanceAxis;
use panel::{Curve, Panel, Place, Worst};
use style::{LABEL, SMALL, STYLE, TITLE};
use svg::{Anchor, Svg, escaped, number, text_width};
use value_axis::ValueAxis;

/// Left edge of the panels.
const LEFT: f64 = 66.0;
/// Right edge of the panels.
const RIGHT: f64 = 706.0;
/// Where the lists of the load cases begin.
const LIST: f64 = 800.0;
/// Empty paper around everything.
const MARGIN: f64 = 22.0;
/// Height of a panel.
const PANEL: f64 = 172.0;
/// From one panel to the next, with the title of the next.
const BETWEEN: f64 = 44.0;
/// Height of a row of section names.
const NAME_ROW: f64 = 17.0;

/// Draws the proof of a review, or nothing where its shaft is not known well enough to have stresses.
#[must_use]
pub fn stress_plot(review: &Review, leading: Leading) -> Option<String> {
    plotted(review, leading).map(|plot| framed(review, plot.width, plot.height, &plot.body))
}

/// The same picture as a part of a page: without styles of its own ([`crate::figure_styles`]), every id with a prefix.
#[must_use]
pub fn stress_figure(review: &Review, leading: Leading, prefix: &str) -> Option<String> {
    let plot = plotted(review, leading)?;
    let (width, height) = (number(plot.width.ceil()), number(plot.height.ceil()));
    let (title, description) = (escaped(&title(review)), escaped(&description(&review.proof)));
    let body = plot.body.replace(" id=\"", &format!(" id=\"{prefix}")).replace("url(#", &format!("url(#{prefix}"));
    Some(format!(
        "<svg class=\"plotted\" viewBox=\"0 0 {width} {height}\" role=\"img\" \
         aria-labelledby=\"{prefix}title {prefix}description\">\n<title id=\"{prefix}title\">{title}</title>\n\
         <desc id=\"{prefix}description\">{description}</desc>\n\
         <rect class=\"paper\" width=\"{width}\" height=\"{height}\"/>\n{body}</svg>\n"
    ))
}

/// The rules of the style sheet, for light and for dark surroundings.
pub(crate) fn style_rules() -> (&'static str, &'static str) {
    let (light, dark) = STYLE.split_once("@media (prefers-color-scheme:dark){").unwrap_or((STYLE, ""));
    (light, dark.strip_suffix('}').unwrap_or(dark))
}

fn plotted(review: &Review, leading: Leading) -> Option<Plot> {
    let proof = &review.proof;
    let stations = ordered(&proof.cases.first()?.stations);
    let last_mm = stations.last()?.at_mm;
    let lengths = review.dimensions.iter().filter(|dimension| dimension.kind == DimensionKind::OverallLength);
    let length_mm = lengths.map(|dimension| dimension.cut.millimetres()).reduce(f64::min);
    let end_mm = length_mm.unwrap_or(last_mm).max(last_mm);
    let places: Vec<f64> = stations.iter().map(|one| one.at_mm).collect();
    let distance = DistanceAxis::over(&places, end_mm, LEFT, RIGHT);
    let panels = panels(proof, leading);
    let list_end = LIST + panels.iter().map(Panel::list_width).fold(0.0, f64::max);
    let width = list_end + MARGIN;

    let mut svg = Svg::default();
    let mut y = MARGIN + TITLE;
    svg.words("title", (MARGIN, y), Anchor::Start, &title(review));
    y += 5.0;
    for sentence in EXPLANATION {
        y += 17.0;
        svg.words("small", (MARGIN, y), Anchor::Start, sentence);
    }
    let bottom = draw_shaft(&mut svg, &stations, &distance, end_mm, y + 12.0, panels.len());
    y = bottom + 40.0;
    for panel in &panels {
        let value = value_axis(panel, y + PANEL, y);
        panel.draw(&mut svg, &Place { distance: &distance, value, left: LEFT, right: RIGHT, list: LIST, list_end });
        y += PANEL + BETWEEN;
    }
    y -= BETWEEN;
    y = draw_distances(&mut svg, &distance, y, leading);
    svg.words("small", (MARGIN, y + 30.0), Anchor::Start, axle::CAUTIONS[0]);
    Some(Plot { width, height: y + 30.0 + MARGIN, body: svg.into_text() })
}

/// What is drawn, without its frame.
struct Plot {
    width: f64,
    height: f64,
    body: String,
}

const EXPLANATION: [&str; 2] = [
    "Curves: each load case with every open input at its harsh end. Band: the worst of all cases, from the harsh to the mild end.",
    "Only the sections that are named are computed; the lines between them guide the eye. A safety over 20 runs off its panel.",
];

fn title(review: &Review) -> String {
    format!("{}: stress and safety along the shaft", review.reference)
}

/// The sections from the wheel face inboard.
fn ordered(stations: &[StationProof]) -> Vec<StationProof> {
    let mut ordered = stations.to_vec();
    ordered.sort_by(|one, other| one.at_mm.total_cmp(&other.at_mm));
    ordered
}

fn panels(proof: &Proof, leading: Leading) -> Vec<Panel> {
    let (mpa, ksi) = (("MPa", 1.0), ("ksi", KSI_MPA));
    let units = if leading == Leading::Inches { [ksi, mpa] } else { [mpa, ksi] };
    let required = |kind| proof.checks.iter().find(|check| check.kind == kind).map(|check| check.required);
    let curves = |of: &dyn Fn(&StationProof) -> Option<f64>| -> Vec<Curve> {
        proof.cases.iter().filter_map(|case| curve(case, of)).collect()
    };
    let once = proof.cases.iter().filter(|case| case.fatigue.is_none()).map(|case| (case.case, "once"));
    vec![
        Panel {
            key: "stress",
            title: "Von Mises stress, without notches".to_owned(),
            curves: curves(&|one| Some(one.stress_mpa)),
            absent: Vec::new(),
            worst: Worst::Largest,
            worst_at: worst_at(proof, Worst::Largest, &|one| Some(one.stress_mpa)),
            required: None,
            units: Some(units),
        },
        Panel {
            key: "yield",
            title: "Safety against yielding".to_owned(),
            curves: curves(&|one| Some(one.yield_safety)),
            absent: Vec::new(),
            worst: Worst::Least,
            worst_at: worst_at(proof, Worst::Least, &|one| Some(one.yield_safety)),
            required: required(ProofKind::Yield),
            units: None,
        },
        Panel {
            key: "fatigue",
            title: "Safety against fatigue, with notches".to_owned(),
            curves: curves(&|one| one.fatigue_safety),
            absent: once.collect(),
            worst: Worst::Least,
            worst_at: worst_at(proof, Worst::Least, &|one| one.fatigue_safety),
            required: required(ProofKind::Fatigue),
            units: None,
        },
    ]
}

/// Where the worst value stands: the section and the load case, with every open input at its harsh end.
fn worst_at(proof: &Proof, worst: Worst, of: &dyn Fn(&StationProof) -> Option<f64>) -> Option<String> {
    let all = proof.cases.iter().flat_map(|case| case.stations.iter().map(move |one| (case.case, one)));
    let values = all.filter_map(|(case, one)| Some((case, one.section, of(one)?)));
    let found = values.reduce(|one, next| if worst.of(one.2, next.2) == one.2 { one } else { next });
    found.map(|(case, section, _)| format!("{}: {section} ({})", worst.word(), case.words()))
}

/// The curve of a case; none where a section has no such value.
fn curve(case: &CaseProof, of: &dyn Fn(&StationProof) -> Option<f64>) -> Option<Curve> {
    let points = |stations: &[StationProof]| -> Option<Vec<(f64, f64)>> {
        ordered(stations).iter().map(|one| Some((one.at_mm, of(one)?))).collect()
    };
    Some(Curve { case: case.case, harsh: points(&case.stations)?, mild: points(&case.stations_at_mild)? })
}

fn value_axis(panel: &Panel, bottom: f64, top: f64) -> ValueAxis {
    let worst =
        panel.curves.iter().map(|curve| panel.worst_of(curve).0).reduce(|one, other| panel.worst.of(one, other));
    match panel.worst {
        Worst::Largest => ValueAxis::from_nought(worst.unwrap_or(0.0), bottom, top),
        Worst::Least => ValueAxis::of_safeties(worst.unwrap_or(1.0), bottom, top),
    }
}

/// Draws the names and the shaft below them, with a line from each section down through the panels. Gives where the shaft
/// ends below.
fn draw_shaft(
    svg: &mut Svg,
    stations: &[StationProof],
    distance: &DistanceAxis,
    end_mm: f64,
    top: f64,
    panels: usize,
) -> f64 {
    let named: Vec<(&str, f64)> = stations.iter().map(|one| (one.section, distance.x(one.at_mm))).collect();
    let labels = station_labels::place(&named, LABEL);
    let rows = labels.iter().map(|label| label.row + 1).max().unwrap_or(0) as f64;
    let foot = top + rows * NAME_ROW;
    let middle = foot + 6.0 + shaft_outline::FLANGE_HALF;
    let bottom = middle + shaft_outline::FLANGE_HALF;
    let lowest = bottom + 40.0 + panels as f64 * (PANEL + BETWEEN) - BETWEEN;
    for label in &labels {
        let y = foot - label.row as f64 * NAME_ROW;
        svg.words("label", (label.x + station_labels::AFTER_LINE, y), Anchor::Start, label.words);
        svg.line("leader", (label.x, y - 10.0), (label.x, middle));
        svg.line("station", (label.x, middle), (label.x, lowest));
    }
    shaft_outline::draw(svg, stations, distance, end_mm, middle);
    bottom
}

/// Draws the distances from the wheel face below the panels, in both units. Gives where they end below.
fn draw_distances(svg: &mut Svg, distance: &DistanceAxis, top: f64, leading: Leading) -> f64 {
    let (inch, metric) = (("in", 25.4), ("mm", 1.0));
    let units = if leading == Leading::Inches { [inch, metric] } else { [metric, inch] };
    let mut y = top;
    for (unit, worth) in units {
        if y > top {
            svg.line("frame", (LEFT, y), (RIGHT, y));
        }
        for tick in distance.ticks(worth) {
            svg.line("frame", (tick.at, y), (tick.at, y + 5.0));
            svg.words("label", (tick.at, y + 18.0), Anchor::Middle, &tick.label);
        }
        svg.words("label", (RIGHT + 22.0, y + 18.0), Anchor::Start, unit);
        y += 28.0;
    }
    svg.words("small", (LEFT, y + 6.0), Anchor::Start, "Distance from the wheel face inboard.");
    if let Some(x) = distance.change() {
        let words = "the scale changes here";
        svg.line("leader", (x, top), (x, y - 7.0));
        let half = text_width(words, SMALL) / 2.0;
        svg.words("small", (x.min(RIGHT - half), y + 6.0), Anchor::Middle, words);
    }
    y + 6.0
}

fn framed(review: &Review, width: f64, height: f64, body: &str) -> String {
    let (width, height) = (number(width.ceil()), number(height.ceil()));
    let title = escaped(&title(review));
    let description = escaped(&description(&review.proof));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\" \
         role=\"img\" aria-labelledby=\"title description\">\n<title id=\"title\">{title}</title>\n\
         <desc id=\"description\">{description}</desc>\n<style>\n{STYLE}\n</style>\n\
         <rect class=\"paper\" width=\"{width}\" height=\"{height}\"/>\n{body}</svg>\n"
    )
}

/// The picture for those who do not see it.
fn description(proof: &Proof) -> String {
    let sentences = proof.cases.iter().map(|case| {
        format!(
            "{}: safety against yielding {:.2} at the harsh end, weakest in the {}.",
            case.case.words(),
            (case.yield_safety.harsh * 100.0).floor() / 100.0,
            case.weakest
        )
    });
    sentences.collect::<Vec<String>>().join(" ")
}
