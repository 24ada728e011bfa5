//! A drawing as a part of a page: without a style sheet of its own, which would reach over the whole page and which a strict
//! content policy does not let in.

use std::fmt::Write;

use crate::ink::INKS;
use crate::item::Drawing;
use crate::stress_plot::style_rules;
use crate::style::{Standard, Style, Units};
use crate::svg::{escaped, frame_room, write_body};

/// The drawing as an SVG element for a page that holds [`figure_styles`].
///
/// Every id begins with the prefix, so that several figures can stand on one page; the attributes `data-dimension` and
/// `data-side` of a dimension are those of [`crate::svg()`].
#[must_use]
pub fn svg_figure(drawing: &Drawing, prefix: &str) -> String {
    let mut out = String::with_capacity(96 * 1024);
    // The page has an edge of its own.
    let room = frame_room(drawing);
    let (left, top) = (room.left, drawing.style.paper.1 - room.top);
    let (width, height) = (room.width(), room.height());
    let prefix = escaped(prefix);
    // Writing to a string cannot fail; the results carry no news.
    let _ = write!(
        out,
        "<svg class=\"draughted {}\" viewBox=\"{left} {top} {width} {height}\" role=\"img\" aria-labelledby=\"{prefix}drawing-title\">\n\
         <title id=\"{prefix}drawing-title\">{}</title>\n",
        scope(drawing.style.standard),
        escaped(&drawing.title)
    );
    write_body(&mut out, drawing, room, &prefix);
    out.push_str("</svg>\n");
    out
}

/// The class of a drawing to that standard; its pens are its own.
fn scope(standard: Standard) -> &'static str {
    match standard {
        Standard::Asme => "to-asme",
        Standard::Iso => "to-iso",
    }
}

/// The styles of every figure, scoped to them, for light and for dark surroundings.
///
/// A page can set `--drawing-paper` and `--drawing-line`; without them the figures follow what the reader's system prefers.
#[must_use]
pub fn figure_styles() -> String {
    let mut css = String::from("/* Written by drawing::figure_styles. */\n");
    css.push_str(&inked("#fff", "#16191d"));
    for standard in [Standard::Asme, Standard::Iso] {
        let (style, scope) = (Style::of(standard, Units::Inch), scope(standard));
        for ink in INKS {
            let (weight, pattern) = (ink.weight(&style), ink.pattern());
            let _ = write!(css, ".{scope} .{}{{stroke-width:{weight}", ink.word());
            if !pattern.is_empty() {
                let dashes: Vec<String> = pattern.iter().map(ToString::to_string).collect();
                let _ = write!(css, ";stroke-dasharray:{};stroke-linecap:butt", dashes.join(" "));
            }
            css.push_str("}\n");
        }
    }
    let (light, dark) = style_rules();
    css.push_str(&scoped(light));
    let _ = write!(css, "@media (prefers-color-scheme:dark){{\n{}{}}}\n", inked("#14171b", "#e4e7ea"), scoped(dark));
    css
}

/// The rules that paint a drawing.
fn inked(paper: &str, line: &str) -> String {
    let line = format!("var(--drawing-line,{line})");
    format!(
        ".draughted .paper{{fill:var(--drawing-paper,{paper})}}\n.draughted :is(g,path,line,circle,use){{fill:none;\
         stroke:{line};stroke-linecap:round;stroke-linejoin:round}}\n.draughted .f{{fill:{line};stroke:none}}\n"
    )
}

/// Puts every rule of the plot's style sheet under its class; one rule stands on each line.
fn scoped(rules: &str) -> String {
    let mut css = String::new();
    for line in rules.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let Some((selectors, rule)) = line.split_once('{') else { continue };
        let selectors: Vec<String> = selectors.split(',').map(|selector| format!(".plotted {selector}")).collect();
        let _ = writeln!(css, "{}{{{rule}", selectors.join(","));
    }
    css
}

#[cfg(test)]
mod tests {
    use axle::Side;
    use quantity::Leading;

    use super::{figure_styles, svg_figure};
    use crate::{Request, Standard, Units, View, draw, stress_figure, stress_plot, svg};

    const TEXT: &str = include_str!("../../../demo/orders/01-hay-truck.toml");

    #[test]
    fn a_figure_shows_what_the_document_shows_and_brings_no_styles() {
        let catalog = axle::Catalog::shipped().unwrap();
        let sheet = axle::read_sheet("sheet.toml", TEXT, &catalog).unwrap();
        let review = axle::review_without_questions(&sheet, &catalog).unwrap();
        let request = Request {
            view: View::Shaft,
            side: Side::Left,
            standard: Standard::Asme,
            units: Units::Inch,
            date: "not dated",
            revision: "1",
            approved: false,
        };
        let drawing = draw(&sheet, &review, &request);
        let (document, figure) = (svg(&drawing), svg_figure(&drawing, "one-"));
        assert!(!figure.contains("<style") && !figure.contains("style="));
        let of = |text: &str, what: &str| text.matches(what).count();
        assert!(of(&figure, "data-dimension=") > 5);
        for what in ["data-dimension=", "<path", "<use", "<circle", "aria-label="] {
            assert_eq!(of(&figure, what), of(&document, what), "{what}");
        }
        assert_eq!(of(&figure, " id=\""), of(&figure, " id=\"one-"));
        assert_eq!(of(&figure, "href=\"#"), of(&figure, "href=\"#one-"));
        assert_eq!(of(&svg_figure(&drawing, ""), "<g id=\"dimension-"), of(&document, "<g id=\"dimension-"));
    }

    #[test]
    fn a_plot_on_a_page_keeps_its_ids_apart() {
        let catalog = axle::Catalog::shipped().unwrap();
        let sheet = axle::read_sheet("sheet.toml", TEXT, &catalog).unwrap();
        let review = axle::review_without_questions(&sheet, &catalog).unwrap();
        let document = stress_plot(&review, Leading::Inches).unwrap();
        let figure = stress_figure(&review, Leading::Inches, "two-").unwrap();
        let of = |text: &str, what: &str| text.matches(what).count();
        assert!(!figure.contains("<style"));
        assert_eq!(of(&figure, "<path"), of(&document, "<path"));
        assert_eq!(of(&figure, " id=\""), of(&figure, " id=\"two-"));
        assert_eq!(of(&figure, "url(#"), of(&figure, "url(#two-"));
    }

    #[test]
    fn no_rule_reaches_beyond_the_figures() {
        for line in figure_styles().lines().filter(|line| line.contains('{') && !line.starts_with('@')) {
            for selector in line
                .split('{')
                .next()
                .unwrap_or_default()
                .split("),")
                .flat_map(|part| if part.contains(":is(") { vec![part] } else { part.split(',').collect() })
            {
                let scoped = [".draughted ", ".plotted ", ".to-asme ", ".to-iso "];
                assert!(scoped.iter().any(|scope| selector.starts_with(scope)), "{selector}");
            }
        }
        assert!(figure_styles().contains("prefers-color-scheme:dark"));
    }
}
