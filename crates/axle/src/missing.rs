//! What the shafts cannot do without and nothing on the sheet gives.

use catalog::{Catalog, Measurand};
use reconcile::Normal;

use crate::block::Block;
use crate::blocks::Blocks;
use crate::candidates::candidates;
use crate::decide::{Decided, Decisions, Topic, measurand_of};
use crate::evidence::planned_uncertainty;
use crate::geometry::Geometry;
use crate::review::{DimensionKind, Identified, Missing, PartKind};
use crate::sheet::Sheet;

/// A reading fills a gap where it takes away at least this share of what is open.
const FILLS_FROM: f64 = 0.8;

/// What the shafts need and nothing on the sheet gives.
pub(crate) fn missing(
    sheet: &Sheet,
    catalog: &Catalog,
    blocks: &Blocks<'_>,
    decisions: &Decisions<'_>,
    identified: &[Identified],
) -> Vec<Missing> {
    let mut all = Vec::new();
    for open in decisions.decided.iter().filter(|one| one.open && is_needed(one.demand.kind)) {
        let measurands = match open.topic {
            Topic::Chain => fillers(&blocks.chain, open, sheet, catalog),
            Topic::Circle => fillers(&blocks.circle, open, sheet, catalog),
            Topic::Face => fillers(&blocks.face, open, sheet, catalog),
        };
        let side = open.demand.side;
        let on = side.map(|side| format!(", {}", side.words())).unwrap_or_default();
        let words = format!("nothing on the sheet gives the {}{on}", open.demand.kind.words());
        all.push(Missing { measurands, part: None, side, words });
    }
    let reads = |measurand: Measurand| sheet.readings.iter().any(|reading| reading.measurand == measurand);
    if !reads(Measurand::ToothCount) {
        let words = "the spline's teeth are not counted".to_owned();
        all.push(Missing { measurands: vec![Measurand::ToothCount], part: Some(PartKind::Spline), side: None, words });
    }
    if !reads(Measurand::HoleCount) {
        let words = "the wheel studs or holes are not counted".to_owned();
        all.push(Missing {
            measurands: vec![Measurand::HoleCount],
            part: Some(PartKind::BoltCircle),
            side: None,
            words,
        });
    }
    let no_bearing_evidence = sheet.parts.bearing.is_none()
        && ![
            Measurand::JournalDiameter,
            Measurand::BearingBore,
            Measurand::BearingOutside,
            Measurand::HousingBoreDiameter,
        ]
        .into_iter()
        .any(reads);
    if no_bearing_evidence {
        let words = "nothing on the sheet tells the bearing".to_owned();
        let measurands = vec![Measurand::BearingOutside, Measurand::JournalDiameter, Measurand::BearingOuterWidth];
        all.push(Missing { measurands, part: Some(PartKind::Bearing), side: None, words });
    } else if identified
        .iter()
        .any(|part| part.kind == PartKind::Bearing && part.candidates.first().is_some_and(|one| one.source == "no row"))
    {
        let words =
            "the bearing is in no row of the catalog and has to be entered there, with its bore, outside, widths and \
                     race offset"
                .to_owned();
        let measurands = vec![Measurand::BearingOuterWidth, Measurand::BearingInnerWidth, Measurand::BearingBore];
        all.push(Missing { measurands, part: Some(PartKind::Bearing), side: None, words });
    }
    let brake = &sheet.parts.brake;
    if brake.changed && brake.row.is_none() {
        if brake.required_offset.is_none() {
            let words = "the brake is another one, and the offset that its maker requires is not given".to_owned();
            all.push(Missing { measurands: Vec::new(), part: None, side: None, words });
        }
        if !reads(Measurand::DrumInside) {
            let words = "the brake is another one, and the room inside its drum or hat is not given".to_owned();
            all.push(Missing { measurands: vec![Measurand::DrumInside], part: None, side: None, words });
        }
    }
    if sheet.parts.stud.is_none() && sheet.parts.stud_hole.is_none() && !reads(Measurand::StudHole) {
        let words = "neither the stud thread nor the stud hole is given".to_owned();
        all.push(Missing { measurands: vec![Measurand::StudHole], part: None, side: None, words });
    }
    if sheet.differential.is_none() {
        let words =
            "the kind of differential is not given: cross pin and side gear differ from kind to kind".to_owned();
        all.push(Missing { measurands: Vec::new(), part: None, side: None, words });
    }
    all
}

/// Whether a shaft cannot be made without this dimension: heights and thickness have usual sizes.
fn is_needed(kind: DimensionKind) -> bool {
    !matches!(kind, DimensionKind::FlangeThickness | DimensionKind::RegisterHeight | DimensionKind::WheelPilotHeight)
}

/// The readings that would fill a gap, the handiest first.
fn fillers<C: Geometry>(block: &Block<'_, C>, open: &Decided, sheet: &Sheet, catalog: &Catalog) -> Vec<Measurand> {
    let Some((choice, overall)) = likeliest(block) else { return Vec::new() };
    let mut found: Vec<(f64, Measurand)> = candidates(sheet, catalog)
        .into_iter()
        .filter(|candidate| candidate.side.is_none() || candidate.side == open.demand.side)
        .filter(|candidate| choice.can_be_taken(candidate.row.measurand))
        .filter_map(|candidate| {
            let form = choice.form(candidate.row.measurand, candidate.side)?;
            let uncertainty = planned_uncertainty(candidate.row, catalog.usual_instrument(candidate.row));
            let share = overall.variance_reduction(&open.demand.ideal, &form, uncertainty);
            // The dimension's own reading may need another that is missing as well, and is still the one to take.
            let own = measurand_of(open.demand.kind) == Some(candidate.row.measurand);
            (share >= FILLS_FROM || own).then_some((candidate.row.effort_minutes, candidate.row.measurand))
        })
        .collect();
    // The dimension itself first, then what is quickest to take.
    let direct = measurand_of(open.demand.kind);
    let indirect = |measurand: Measurand| Some(measurand) != direct;
    found.sort_by(|one, other| {
        indirect(one.1).cmp(&indirect(other.1)).then(one.0.total_cmp(&other.0)).then(one.1.cmp(&other.1))
    });
    found.dedup_by_key(|(_, measurand)| *measurand);
    found.into_iter().map(|(_, measurand)| measurand).collect()
}

fn likeliest<'b, C: Geometry>(block: &'b Block<'_, C>) -> Option<(&'b C, Normal)> {
    let explanation = block.likeliest()?;
    Some((block.choice(explanation.model), block.mixture.overall()?))
}
