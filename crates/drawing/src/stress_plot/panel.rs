//! One panel: a curve for each load case over the sections, the band of the worst of them, and what they are held against.

use axle::LoadCase;

use super::distance_axis::DistanceAxis;
use super::style::{LABEL, look};
use super::svg::{Anchor, Point, Svg, number, text_width};
use super::value_axis::ValueAxis;

/// A load case in a panel: distance from the wheel face in mm, and value, at each section.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// Which case.
    pub case: LoadCase,
    /// With every open input at its harsh end.
    pub harsh: Vec<(f64, f64)>,
    /// At its mild end.
    pub mild: Vec<(f64, f64)>,
}

/// Which of several values is the worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Worst {
    /// The largest, as of stresses.
    Largest,
    /// The least, as of safeties.
    Least,
}

impl Worst {
    /// What the worst is called.
    pub fn word(self) -> &'static str {
        match self {
            Self::Largest => "highest",
            Self::Least => "weakest",
        }
    }

    /// The worse of two values.
    pub fn of(self, one: f64, other: f64) -> f64 {
        match self {
            Self::Largest => one.max(other),
            Self::Least => one.min(other),
        }
    }
}

/// Everything that a panel shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Its key, which the groups of its curves bear.
    pub key: &'static str,
    /// What it shows, in words.
    pub title: String,
    /// The load cases.
    pub curves: Vec<Curve>,
    /// Cases that it has no curve of, and why.
    pub absent: Vec<(LoadCase, &'static str)>,
    /// Which value is the worst.
    pub worst: Worst,
    /// Where the worst value stands, in words.
    pub worst_at: Option<String>,
    /// The least value that passes.
    pub required: Option<f64>,
    /// Units of the left and of the right axis, with what they are worth; a pure number has one axis and no unit.
    pub units: Option<[(&'static str, f64); 2]>,
}

/// Where a panel stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Place<'a> {
    /// The distance from the wheel face.
    pub distance: &'a DistanceAxis,
    /// The values.
    pub value: ValueAxis,
    /// The left edge.
    pub left: f64,
    /// The right edge.
    pub right: f64,
    /// Where the list of the cases begins.
    pub list: f64,
    /// Where the list ends.
    pub list_end: f64,
}

/// Height of a row of the list of cases.
const ROW: f64 = 18.0;

impl Panel {
    /// The worst value of a case: at the harsh and at the mild end.
    pub fn worst_of(&self, curve: &Curve) -> (f64, f64) {
        let worst = |points: &[(f64, f64)]| {
            let values = points.iter().map(|(_, value)| *value);
            values.reduce(|one, other| self.worst.of(one, other)).unwrap_or(f64::NAN)
        };
        (worst(&curve.harsh), worst(&curve.mild))
    }

    /// Draws the panel.
    pub fn draw(&self, svg: &mut Svg, place: &Place<'_>) {
        let (top, bottom) = (place.value.top(), place.value.bottom());
        svg.words("strong", (place.left, top - 9.0), Anchor::Start, &self.title);
        if let Some(words) = &self.worst_at {
            svg.words("small", (place.right, top - 9.0), Anchor::End, words);
        }
        self.draw_axes(svg, place);
        let clip = format!("within-{}", self.key);
        svg.raw(&format!(
            "<clipPath id=\"{clip}\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></clipPath>",
            number(place.left),
            number(top),
            number(place.right - place.left),
            number(bottom - top)
        ));
        svg.open(&[("clip-path", &format!("url(#{clip})"))]);
        self.draw_band(svg, place);
        svg.close();
        if let Some(required) = self.required {
            let y = place.value.y(required);
            svg.line("least", (place.left, y), (place.right, y));
            svg.words("strong", (place.right + 7.0, y + 4.0), Anchor::Start, &format!("least {required:.2}"));
        }
        for curve in self.by_severity().into_iter().rev() {
            self.draw_curve(svg, place, curve, &clip);
        }
        svg.rectangle("frame", (place.left, top), place.right - place.left, bottom - top);
        self.draw_list(svg, place);
    }

    fn draw_axes(&self, svg: &mut Svg, place: &Place<'_>) {
        let sides = match self.units {
            Some([left, right]) => vec![(left, false), (right, true)],
            None => vec![(("", 1.0), false)],
        };
        for ((unit, worth), at_right) in sides {
            let (x, anchor) =
                if at_right { (place.right + 7.0, Anchor::Start) } else { (place.left - 7.0, Anchor::End) };
            for tick in place.value.ticks(worth) {
                if !at_right {
                    svg.line("grid", (place.left, tick.at), (place.right, tick.at));
                }
                let edge = if at_right { place.right } else { place.left };
                let outward = if at_right { 4.0 } else { -4.0 };
                svg.line("frame", (edge, tick.at), (edge + outward, tick.at));
                svg.words("label", (x, tick.at + 4.0), anchor, &tick.label);
            }
            if !unit.is_empty() {
                svg.words("small", (x, place.value.top() - 9.0), anchor, unit);
            }
        }
    }

    /// The band between the worst of all cases at the harsh and at the mild end.
    fn draw_band(&self, svg: &mut Svg, place: &Place<'_>) {
        let ends: [Vec<Vec<Point>>; 2] = [
            self.curves.iter().map(|curve| drawn(&curve.harsh, place)).collect(),
            self.curves.iter().map(|curve| drawn(&curve.mild, place)).collect(),
        ];
        // Down the picture is towards less.
        let [harsh, mild] = ends.map(|curves| envelope(&curves, self.worst == Worst::Largest));
        let mut around = harsh;
        around.extend(mild.iter().rev());
        svg.polygon("band", &around);
        svg.polyline("mild", &mild);
    }

    fn draw_curve(&self, svg: &mut Svg, place: &Place<'_>, curve: &Curve, clip: &str) {
        let look = look(curve.case);
        let points = drawn(&curve.harsh, place);
        svg.open(&[("id", &format!("{}-{}", self.key, look.class))]);
        svg.open(&[("clip-path", &format!("url(#{clip})"))]);
        svg.polyline(&format!("curve {}", look.class), &points);
        svg.close();
        for (point, (_, value)) in points.iter().zip(&curve.harsh) {
            if place.value.holds(*value) {
                svg.path_at(&format!("mark {}", look.class), *point, look.mark);
            }
        }
        svg.close();
    }

    /// The cases beside the panel, the worst first: look, name, and the worst value from the harsh to the mild end.
    fn draw_list(&self, svg: &mut Svg, place: &Place<'_>) {
        let mut y = place.value.top() - 9.0;
        svg.words("small", (place.list + 42.0, y), Anchor::Start, "load case");
        svg.words("small", (place.list_end, y), Anchor::End, "worst section");
        y += 20.0;
        for curve in self.by_severity() {
            let look = look(curve.case);
            svg.line(&format!("curve {}", look.class), (place.list, y - 4.0), (place.list + 34.0, y - 4.0));
            svg.path_at(&format!("mark {}", look.class), (place.list + 17.0, y - 4.0), look.mark);
            svg.words("label", (place.list + 42.0, y), Anchor::Start, curve.case.words());
            let (harsh, mild) = self.worst_of(curve);
            svg.words("label", (place.list_end, y), Anchor::End, &self.range_text(harsh, mild));
            y += ROW;
        }
        for (case, why) in &self.absent {
            svg.words("label", (place.list + 42.0, y), Anchor::Start, case.words());
            svg.words("label", (place.list_end, y), Anchor::End, why);
            y += ROW;
        }
        svg.rectangle("band", (place.list, y - 11.0), 34.0, 10.0);
        svg.line("mild", (place.list, y - 11.0), (place.list + 34.0, y - 11.0));
        svg.words("label", (place.list + 42.0, y), Anchor::Start, "worst of all, harsh to mild end");
    }

    /// The lower number first; safeties are rounded down, so that what fails never reads as if it held.
    fn range_text(&self, harsh: f64, mild: f64) -> String {
        let text = |value: f64| match self.units {
            Some([(_, worth), _]) => format!("{:.0}", value / worth),
            None if value >= 100.0 => "over 100".to_owned(),
            None => format!("{:.2}", (value * 100.0).floor() / 100.0),
        };
        let unit = self.units.map_or(String::new(), |[(unit, _), _]| format!(" {unit}"));
        let (low, high) = (text(harsh.min(mild)), text(harsh.max(mild)));
        if low == high { format!("{low}{unit}") } else { format!("{low}–{high}{unit}") }
    }

    fn by_severity(&self) -> Vec<&Curve> {
        let mut curves: Vec<&Curve> = self.curves.iter().collect();
        let severity = |curve: &Curve| match self.worst {
            Worst::Largest => -self.worst_of(curve).0,
            Worst::Least => self.worst_of(curve).0,
        };
        curves.sort_by(|one, other| severity(one).total_cmp(&severity(other)));
        curves
    }

    /// How far the list of the cases reaches to the right of its beginning, at most.
    pub fn list_width(&self) -> f64 {
        let rows = self.curves.iter().map(|curve| {
            let (harsh, mild) = self.worst_of(curve);
            text_width(curve.case.words(), LABEL) + text_width(&self.range_text(harsh, mild), LABEL)
        });
        42.0 + 14.0 + rows.fold(0.0, f64::max)
    }
}

fn drawn(points: &[(f64, f64)], place: &Place<'_>) -> Vec<Point> {
    points.iter().map(|(at_mm, value)| (place.distance.x(*at_mm), place.value.y(*value))).collect()
}

/// The upper or the lower edge of curves that have their points at the same places, exactly: also where two of them cross
/// between two places.
fn envelope(curves: &[Vec<Point>], upper: bool) -> Vec<Point> {
    let Some(first) = curves.first() else { return Vec::new() };
    let edge = |at: &dyn Fn(&Vec<Point>) -> f64| {
        let values = curves.iter().map(at);
        values.reduce(|one, other| if upper { one.min(other) } else { one.max(other) }).unwrap_or(0.0)
    };
    let mut points = Vec::new();
    for index in 0..first.len() {
        points.push((first[index].0, edge(&|curve| curve[index].1)));
        if index + 1 == first.len() {
            break;
        }
        let mut shares: Vec<f64> = Vec::new();
        for (number, one) in curves.iter().enumerate() {
            for other in &curves[number + 1..] {
                let (before, after) = (one[index].1 - other[index].1, one[index + 1].1 - other[index + 1].1);
                if before * after < 0.0 {
                    shares.push(before / (before - after));
                }
            }
        }
        shares.sort_by(f64::total_cmp);
        for share in shares {
            let x = first[index].0 + share * (first[index + 1].0 - first[index].0);
            points.push((x, edge(&|curve| curve[index].1 + share * (curve[index + 1].1 - curve[index].1))));
        }
    }
    points
}

#[cfg(test)]
mod tests {
    use super::envelope;

    #[test]
    fn the_edge_of_two_crossing_curves_has_a_corner_where_they_cross() {
        let curves = [vec![(0.0, 0.0), (10.0, 10.0)], vec![(0.0, 10.0), (10.0, 0.0)]];
        assert_eq!(envelope(&curves, false), [(0.0, 10.0), (5.0, 5.0), (10.0, 10.0)]);
        assert_eq!(envelope(&curves, true), [(0.0, 0.0), (5.0, 5.0), (10.0, 0.0)]);
    }
}
