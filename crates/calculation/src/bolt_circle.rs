//! `axlewright bolt-circle`: the circle from chords or from the edges of holes.

use axle::CAUTIONS;
use catalog::Catalog;
use clap::Args;
use elements::bolt_circle::{
    BestCircle, BoltCircleError, ChordReading, EdgeReading, Edges, best_circle, chord, chord_by_edges,
    circle_from_chord, circle_uncertainty, far_edge_span, highest_rank, near_edge_gap,
};
use quantity::{Instrument, Leading, LengthExt, WrittenLength, chi_squared_quantile, millimetres, nearest_word};

use super::{Block, Calculation, CalculationArguments, Inputs, Quantity, Refusals};

/// Examples for the help.
pub const EXAMPLES: &str = "\
Examples:
  axlewright bolt-circle --holes 5 --adjacent 2.793 in
      from the distance of two neighbouring holes, centre to centre
  axlewright bolt-circle --holes 5 --adjacent 66.95 mm --alternate 108.95 mm --uncertainty 0.10 mm
      from two distances: the weighted best circle, and whether they agree
  axlewright bolt-circle --holes 6 --edge-gap 57.85 mm --hole 12 mm
      from the gap between the near edges of two holes
  axlewright bolt-circle --holes 5 --edge-gap 54.48 mm --edge-span 79.88 mm
      from both edges, which give the hole as well

Exit status:
  0  the circle was computed
  2  an argument could not be used";

/// The arguments of `bolt-circle`.
#[derive(Debug, Args)]
pub struct BoltCircleArguments {
    /// Number of holes
    #[arg(long, value_name = "COUNT", required = true)]
    holes: String,

    /// Distance of two neighbouring holes, centre to centre
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    adjacent: Option<Vec<String>>,

    /// Distance of two holes with one between them, centre to centre
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    alternate: Option<Vec<String>>,

    /// Distance of two opposite holes, centre to centre: an even number of holes only
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    opposite: Option<Vec<String>>,

    /// Gap between the near edges of two holes
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    edge_gap: Option<Vec<String>>,

    /// Span over the far edges of two holes
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    edge_span: Option<Vec<String>>,

    /// Which two holes the edges belong to: adjacent, alternate or opposite
    #[arg(long, value_name = "HOLES")]
    edges_of: Option<String>,

    /// Diameter of a hole
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    hole: Option<Vec<String>>,

    /// What the readings were taken with, an instrument of the catalog
    #[arg(long, value_name = "NAME", conflicts_with = "uncertainty")]
    instrument: Option<String>,

    /// Standard uncertainty of every reading, instead of an instrument's
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    uncertainty: Option<Vec<String>>,

    /// The unit.
    #[command(flatten)]
    pub common: CalculationArguments,
}

/// Two holes of a circle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Pair {
    Adjacent,
    Alternate,
    Opposite,
}

/// A distance of two holes as it was read.
struct Distance {
    /// `adjacent`, or `adjacent_edges` where it comes from edges.
    name: String,
    rank: u32,
    chord_mm: f64,
    uncertainty_mm: f64,
}

/// Everything that was read, with where its uncertainty comes from.
struct Readings<'c> {
    uncertainty_mm: Option<f64>,
    instrument: Option<&'c Instrument>,
}

/// Computes the circle.
///
/// # Errors
///
/// Every argument that cannot be used.
pub fn compute(arguments: &BoltCircleArguments, catalog: &Catalog) -> Result<Calculation, Refusals> {
    let mut inputs = Inputs::new(arguments.common.unit.as_deref());
    let mut taken = Vec::new();
    let holes = read_holes(arguments, &mut inputs);
    let centres = [
        (Pair::Adjacent, inputs.length("--adjacent", &arguments.adjacent)),
        (Pair::Alternate, inputs.length("--alternate", &arguments.alternate)),
        (Pair::Opposite, inputs.length("--opposite", &arguments.opposite)),
    ];
    let gap = inputs.length("--edge-gap", &arguments.edge_gap);
    let span = inputs.length("--edge-span", &arguments.edge_span);
    let hole = inputs.length("--hole", &arguments.hole);
    let edges_of = read_edges_of(arguments, &mut inputs, &mut taken);
    let readings = read_uncertainty(arguments, catalog, &mut inputs, &mut taken);
    check_edges(arguments, &mut inputs);
    inputs.settle()?;
    let Some(holes) = holes else { return Err(inputs.take_refusals()) };

    let mut distances = Vec::new();
    for (pair, written) in &centres {
        let Some(written) = written else { continue };
        let rank = rank(*pair, holes, &mut inputs)?;
        let (chord_mm, uncertainty_mm) = (written.value().millimetres(), readings.uncertainty_mm(written));
        distances.push(Distance { name: pair.name().to_owned(), rank, chord_mm, uncertainty_mm });
    }
    let mut hole_mm = hole.as_ref().map(|hole| hole.value().millimetres());
    if let Some(edges) = readings.edges(gap.as_ref(), span.as_ref(), hole.as_ref()) {
        let rank = rank(edges_of, holes, &mut inputs)?;
        let found = chord_by_edges(edges).map_err(|error| {
            let text = arguments.edge_span.as_ref().map(|words| words.join(" ")).unwrap_or_default();
            inputs.refuse("--edge-span", &text, error.to_string(), "a span larger than the gap");
            inputs.take_refusals()
        })?;
        hole_mm = Some(found.hole_diameter);
        let name = format!("{}_edges", edges_of.name());
        distances.push(Distance { name, rank, chord_mm: found.chord, uncertainty_mm: found.uncertainty });
    }
    let leading = centres.iter().find_map(|(_, written)| written.as_ref()).or(gap.as_ref()).or(span.as_ref());
    let leading = match leading {
        Some(written) if written.unit().is_metric() => Leading::Millimetres,
        _ => Leading::Inches,
    };
    let blocks = computed(holes, &distances, hole_mm, catalog).map_err(|error| {
        let (argument, text) = match &error {
            BoltCircleError::HolesTouch { .. } => ("--hole", arguments.hole.as_ref().map(|words| words.join(" "))),
            _ => ("--holes", Some(arguments.holes.clone())),
        };
        inputs.refuse(argument, &text.unwrap_or_default(), error.to_string(), "");
        inputs.take_refusals()
    })?;
    Ok(Calculation {
        command: "bolt_circle",
        subject: format!("{holes} holes from {}", count_of(distances.len())),
        leading,
        taken,
        blocks,
        cautions: &CAUTIONS[..1],
    })
}

impl Pair {
    const NAMES: [(&str, Self); 3] =
        [("adjacent", Self::Adjacent), ("alternate", Self::Alternate), ("opposite", Self::Opposite)];

    fn name(self) -> &'static str {
        match self {
            Self::Adjacent => "adjacent",
            Self::Alternate => "alternate",
            Self::Opposite => "opposite",
        }
    }

    fn argument(self) -> &'static str {
        match self {
            Self::Adjacent => "--adjacent",
            Self::Alternate => "--alternate",
            Self::Opposite => "--opposite",
        }
    }
}

impl Readings<'_> {
    fn uncertainty_mm(&self, written: &WrittenLength) -> f64 {
        match (self.uncertainty_mm, self.instrument) {
            (Some(uncertainty_mm), _) => uncertainty_mm,
            (None, Some(instrument)) => instrument.standard_uncertainty(std::slice::from_ref(written)).millimetres(),
            (None, None) => 0.0,
        }
    }

    /// A reading of an edge or of a hole with its uncertainty.
    fn edge(&self, written: &WrittenLength) -> EdgeReading {
        EdgeReading { length: written.value().millimetres(), uncertainty: self.uncertainty_mm(written) }
    }

    /// What was read of the edges; nothing where one edge stands without the hole, which is refused elsewhere.
    fn edges(
        &self,
        gap: Option<&WrittenLength>,
        span: Option<&WrittenLength>,
        hole: Option<&WrittenLength>,
    ) -> Option<Edges> {
        let edge = |written: &WrittenLength| self.edge(written);
        match (gap, span, hole) {
            (Some(gap), Some(span), _) => Some(Edges::GapAndSpan(edge(gap), edge(span))),
            (Some(gap), None, Some(hole)) => Some(Edges::GapAndHole(edge(gap), edge(hole))),
            (None, Some(span), Some(hole)) => Some(Edges::SpanAndHole(edge(span), edge(hole))),
            _ => None,
        }
    }
}

fn read_holes(arguments: &BoltCircleArguments, inputs: &mut Inputs) -> Option<u32> {
    let holes = inputs.count("--holes", Some(&arguments.holes), "a whole number of holes, such as 5")?;
    match highest_rank(holes) {
        Ok(_) => Some(holes),
        Err(error) => {
            inputs.refuse("--holes", &arguments.holes, error.to_string(), "");
            None
        }
    }
}

fn read_edges_of(arguments: &BoltCircleArguments, inputs: &mut Inputs, taken: &mut Vec<String>) -> Pair {
    match &arguments.edges_of {
        Some(text) => inputs.one_of("--edges-of", text, &Pair::NAMES).unwrap_or(Pair::Adjacent),
        None => {
            if arguments.edge_gap.is_some() || arguments.edge_span.is_some() {
                taken.push("the edges belong to adjacent holes".to_owned());
            }
            Pair::Adjacent
        }
    }
}

fn read_uncertainty<'c>(
    arguments: &BoltCircleArguments,
    catalog: &'c Catalog,
    inputs: &mut Inputs,
    taken: &mut Vec<String>,
) -> Readings<'c> {
    /// What a hole pattern is usually measured with.
    const USUAL: &str = "caliper";
    if arguments.uncertainty.is_some() {
        let uncertainty = inputs.length("--uncertainty", &arguments.uncertainty);
        return Readings { uncertainty_mm: uncertainty.map(|one| one.value().millimetres()), instrument: None };
    }
    let name = arguments.instrument.as_deref().unwrap_or(USUAL);
    let instrument = catalog.instrument(name);
    if instrument.is_none() {
        let names: Vec<&str> = catalog.instruments.iter().map(|instrument| instrument.name.as_str()).collect();
        let meant = nearest_word(name, names.iter().copied())
            .map_or_else(String::new, |nearest| format!(", did you mean {nearest:?}?"));
        let accepted = format!("{}; or --uncertainty", names.join(", "));
        inputs.refuse("--instrument", name, format!("{name:?} is no instrument of the catalog{meant}"), accepted);
    }
    if arguments.instrument.is_none() {
        taken.push(format!("readings taken with the catalog's {USUAL}"));
    }
    Readings { uncertainty_mm: None, instrument }
}

fn check_edges(arguments: &BoltCircleArguments, inputs: &mut Inputs) {
    let edges = [&arguments.edge_gap, &arguments.edge_span].into_iter().flatten().count();
    let text = |words: &Option<Vec<String>>| words.as_ref().map(|words| words.join(" ")).unwrap_or_default();
    let centres = [&arguments.adjacent, &arguments.alternate, &arguments.opposite].into_iter().flatten().count();
    if edges + centres == 0 {
        let accepted = "--adjacent, --alternate, --opposite, --edge-gap or --edge-span with a length";
        inputs.miss("--adjacent", "no distance of holes is given", accepted);
    }
    if edges == 1 && arguments.hole.is_none() {
        let problem = "one edge gives a distance of centres only together with the hole";
        inputs.miss("--hole", problem, "the diameter of a hole, or both --edge-gap and --edge-span");
    }
    if edges == 2 && arguments.hole.is_some() {
        let problem = "gap and span give the hole already";
        inputs.refuse("--hole", &text(&arguments.hole), problem, "one edge and --hole, or both edges alone");
    }
    if let (0, Some(text)) = (edges, &arguments.edges_of) {
        inputs.refuse("--edges-of", text, "no edge is given", "--edge-gap or --edge-span beside it");
    }
}

fn rank(pair: Pair, holes: u32, inputs: &mut Inputs) -> Result<u32, Refusals> {
    let highest = highest_rank(holes).unwrap_or(0);
    let rank = match pair {
        Pair::Adjacent => Some(1),
        Pair::Alternate if highest >= 2 => Some(2),
        Pair::Opposite if holes.is_multiple_of(2) => Some(highest),
        Pair::Alternate | Pair::Opposite => None,
    };
    rank.ok_or_else(|| {
        let accepted = if highest >= 2 { "--adjacent or --alternate" } else { "--adjacent" };
        inputs.miss(pair.argument(), format!("{holes} holes have no {} pair", pair.name()), accepted);
        inputs.take_refusals()
    })
}

fn count_of(distances: usize) -> String {
    if distances == 1 { "one distance".to_owned() } else { format!("{distances} distances") }
}

fn computed(
    holes: u32,
    distances: &[Distance],
    hole_mm: Option<f64>,
    catalog: &Catalog,
) -> Result<Vec<Block>, BoltCircleError> {
    let readings: Vec<ChordReading> = distances
        .iter()
        .map(|one| ChordReading { rank: one.rank, chord: one.chord_mm, standard_uncertainty: one.uncertainty_mm })
        .collect();
    let best = best_circle(holes, &readings)?;
    let mut blocks = Vec::new();
    let mut read = Block::new("readings", "chord of a circle; its uncertainty by JCGM 100:2008 (GUM), 5.1.2");
    for one in distances {
        let name = &one.name;
        read.size(format!("{name}_centres"), millimetres(one.chord_mm), "");
        read.one(format!("{name}_uncertainty"), Quantity::Deviation(millimetres(one.uncertainty_mm)), "standard");
        read.size(format!("{name}_circle"), millimetres(circle_from_chord(one.chord_mm, holes, one.rank)?), "alone");
        let alone_mm = circle_uncertainty(one.uncertainty_mm, holes, one.rank)?;
        read.one(format!("{name}_circle_uncertainty"), Quantity::Deviation(millimetres(alone_mm)), "standard");
    }
    if let Some(hole_mm) = hole_mm {
        read.size("hole", millimetres(hole_mm), "");
    }
    blocks.push(read);
    blocks.push(circle_block(&best, distances));
    blocks.push(chord_block(holes, best.diameter, hole_mm)?);
    blocks.push(catalog_block(holes, &best, catalog));
    Ok(blocks)
}

fn circle_block(best: &BestCircle, distances: &[Distance]) -> Block {
    /// The level at which readings are said to contradict each other: usual practice of the chi-square test.
    const LEVEL: f64 = 0.95;
    let mut block = Block::new("circle", "weighted least squares in one unknown; chi-square test at 95 %");
    block.size("diameter", millimetres(best.diameter), "");
    let uncertainty = Quantity::Deviation(millimetres(best.standard_uncertainty));
    block.one("standard_uncertainty", uncertainty, "from the readings alone");
    if best.degrees_of_freedom == 0 {
        block.note("one distance alone cannot show its own mistake: a second one would check it");
        return block;
    }
    block.one("chi_square", Quantity::ratio(best.chi_square, 4), "");
    for (one, residual) in distances.iter().zip(&best.residuals) {
        let key = format!("{}_residual", one.name);
        block.one(key, Quantity::ratio(*residual, 2), "in standard uncertainties");
    }
    // The count of readings is far inside the range that the quantile is computed for.
    if let Ok(limit) = chi_squared_quantile(LEVEL, best.degrees_of_freedom as f64) {
        block.one("chi_square_limit", Quantity::ratio(limit, 4), "");
        let agree = best.chi_square <= limit;
        block.words("the_readings", if agree { "agree" } else { "contradict each other: measure again" }, "");
    }
    block
}

fn chord_block(holes: u32, circle_mm: f64, hole_mm: Option<f64>) -> Result<Block, BoltCircleError> {
    let mut block = Block::new("distances_on_this_circle", "chord of a circle; handbook table of hole spacing");
    for rank in 1..=highest_rank(holes)? {
        let of = |what: &str| {
            if rank == 1 { format!("adjacent_{what}") } else { format!("{what}_{}_places_apart", count_word(rank)) }
        };
        block.size(of("centres"), millimetres(chord(circle_mm, holes, rank)?), "");
        if let Some(hole_mm) = hole_mm {
            block.size(of("near_edges"), millimetres(near_edge_gap(circle_mm, holes, rank, hole_mm)?), "gap");
            block.size(of("far_edges"), millimetres(far_edge_span(circle_mm, holes, rank, hole_mm)?), "span");
        }
    }
    Ok(block)
}

/// A small count in words.
fn count_word(count: u32) -> String {
    const WORDS: [&str; 9] = ["two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    let at = usize::try_from(count).ok().and_then(|count| count.checked_sub(2));
    at.and_then(|at| WORDS.get(at)).map_or_else(|| count.to_string(), |word| (*word).to_owned())
}

fn catalog_block(holes: u32, best: &BestCircle, catalog: &Catalog) -> Block {
    const NEAREST: usize = 3;
    let mut block = Block::new("nearest_circles_of_the_catalog", "the catalog, each row by its own source");
    let mut rows: Vec<_> = catalog.bolt_circles.iter().filter(|row| row.holes == holes).collect();
    let away = |diameter_mm: f64| (diameter_mm - best.diameter).abs();
    rows.sort_by(|one, other| away(one.diameter.millimetres()).total_cmp(&away(other.diameter.millimetres())));
    if rows.is_empty() {
        block.note(format!("the catalog has no circle of {holes} holes"));
    }
    for (row, place) in rows.iter().take(NEAREST).zip(["nearest", "second", "third"]) {
        let difference_mm = best.diameter - row.diameter.millimetres();
        let uncertainties = difference_mm / best.standard_uncertainty;
        let remark = format!("the circle is {uncertainties:+.1} standard uncertainties from it; {}", row.source);
        block.size(place, row.diameter, remark);
    }
    block.note("a measured circle need not be the nearest one of the catalog: a second distance settles it");
    block
}
