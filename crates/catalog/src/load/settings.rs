//! Reads `settings.toml`.

use placed::{Document, Item};

use crate::settings::{Beliefs, Clearances, Losses, Scatter, Settings, ShopTolerances, StrayThicknesses, Thresholds};

use super::learning_settings::learning;
use super::proof_settings::proof;
use super::row::{Row, Size};

/// No loss is dearer than this many scrapped shafts.
const LARGEST_LOSS: f64 = 100.0;

/// More questions than this on one page are none.
const MOST_QUESTIONS: i64 = 50;

/// Reads the settings: the shipped file, and a shop's keys on top.
pub(super) fn read(files: &[&Document]) -> Option<Settings> {
    let mut settings: Option<Settings> = None;
    for file in files {
        let root = Row::new(file.root());
        let old = settings.as_ref();
        let clearances = section(&root, "clearances", old.map(|old| &old.clearances), clearances);
        let tolerances = section(&root, "tolerances", old.map(|old| &old.tolerances), tolerances);
        let losses = section(&root, "losses", old.map(|old| &old.losses), losses);
        let thresholds = section(&root, "thresholds", old.map(|old| &old.thresholds), thresholds);
        let stray = section(&root, "stray", old.map(|old| &old.stray), stray);
        let beliefs = section(&root, "beliefs", old.map(|old| &old.beliefs), beliefs);
        let proof = section(&root, "proof", old.map(|old| &old.proof), proof);
        let learning = section(&root, "learning", old.map(|old| &old.learning), learning);
        root.finish();
        settings = Some(Settings {
            clearances: clearances?,
            tolerances: tolerances?,
            losses: losses?,
            thresholds: thresholds?,
            stray: stray?,
            beliefs: beliefs?,
            proof: proof?,
            learning: learning?,
        });
    }
    settings
}

/// Reads one section on top of the inherited one.
fn section<T: Clone>(
    root: &Row<'_>,
    key: &str,
    old: Option<&T>,
    read: impl FnOnce(&Row<'_>, Option<&T>) -> Option<T>,
) -> Option<T> {
    root.value(key, old.cloned(), |item| {
        let row = Row::new(item.table()?);
        let section = read(&row, old);
        row.finish();
        section
    })
}

fn clearances(row: &Row<'_>, old: Option<&Clearances>) -> Option<Clearances> {
    let end_to_pin = row.window("end_to_pin", old.map(|old| &old.end_to_pin));
    let engagement_ratio = row.positive("engagement_ratio", old.map(|old| old.engagement_ratio), 5.0);
    let brake_offset = row.window("brake_offset", old.map(|old| &old.brake_offset));
    let register_in_drum = row.window("register_in_drum", old.map(|old| &old.register_in_drum));
    let register_in_rotor = row.window("register_in_rotor", old.map(|old| &old.register_in_rotor));
    let pilot_in_wheel = row.window("pilot_in_wheel", old.map(|old| &old.pilot_in_wheel));
    let flange_in_drum = row.length("flange_in_drum", old.map(|old| old.flange_in_drum), Size::NotNegative);
    let bolt_circle = row.window("bolt_circle", old.map(|old| &old.bolt_circle));
    let retainer_ball = row.window("retainer_ball", old.map(|old| &old.retainer_ball));
    let retainer_tapered = row.window("retainer_tapered", old.map(|old| &old.retainer_tapered));
    let hole_to_edge = row.length("hole_to_edge", old.map(|old| old.hole_to_edge), Size::Positive);
    // A shop that changes a window alone vouches for it there, so the section needs no source again.
    let plain = ["engagement_ratio", "flange_in_drum", "hole_to_edge", "source"];
    let source = match old {
        Some(old) if !plain.iter().any(|key| row.gives(key)) => Some(old.source.clone()),
        _ => row.source(),
    };
    Some(Clearances {
        end_to_pin: end_to_pin?,
        engagement_ratio: engagement_ratio?,
        brake_offset: brake_offset?,
        register_in_drum: register_in_drum?,
        register_in_rotor: register_in_rotor?,
        pilot_in_wheel: pilot_in_wheel?,
        flange_in_drum: flange_in_drum?,
        bolt_circle: bolt_circle?,
        retainer_ball: retainer_ball?,
        retainer_tapered: retainer_tapered?,
        hole_to_edge: hole_to_edge?,
        source: source?,
    })
}

fn tolerances(row: &Row<'_>, old: Option<&ShopTolerances>) -> Option<ShopTolerances> {
    let overall_length = row.length("overall_length", old.map(|old| old.overall_length), Size::Positive);
    let shoulder_distance = row.length("shoulder_distance", old.map(|old| old.shoulder_distance), Size::Positive);
    let register_diameter = row.length("register_diameter", old.map(|old| old.register_diameter), Size::Positive);
    let seat_diameter = row.length("seat_diameter", old.map(|old| old.seat_diameter), Size::Positive);
    let free_size = row.length("free_size", old.map(|old| old.free_size), Size::Positive);
    let hole_position = row.length("hole_position", old.map(|old| old.hole_position), Size::Positive);
    let source = row.source();
    Some(ShopTolerances {
        overall_length: overall_length?,
        shoulder_distance: shoulder_distance?,
        register_diameter: register_diameter?,
        seat_diameter: seat_diameter?,
        free_size: free_size?,
        hole_position: hole_position?,
        source: source?,
    })
}

fn losses(row: &Row<'_>, old: Option<&Losses>) -> Option<Losses> {
    let scrap = row.positive("scrap", old.map(|old| old.scrap), LARGEST_LOSS);
    let rework = row.positive("rework", old.map(|old| old.rework), LARGEST_LOSS);
    let nuisance = row.positive("nuisance", old.map(|old| old.nuisance), LARGEST_LOSS);
    let trim = row.positive("trim", old.map(|old| old.trim), LARGEST_LOSS);
    let minute = row.number("minute", old.map(|old| old.minute), 0.0..=LARGEST_LOSS);
    let source = row.source();
    let losses =
        Losses { scrap: scrap?, rework: rework?, nuisance: nuisance?, trim: trim?, minute: minute?, source: source? };
    if losses.nuisance > losses.rework || losses.rework > losses.scrap {
        row.fault_at("rework", "the losses are out of order", "nuisance ≤ rework ≤ scrap");
        return None;
    }
    Some(losses)
}

fn thresholds(row: &Row<'_>, old: Option<&Thresholds>) -> Option<Thresholds> {
    let cut_at = row.number("cut_at", old.map(|old| old.cut_at), 0.5..=0.9999);
    let identified_at = row.number("identified_at", old.map(|old| old.identified_at), 0.5..=0.9999);
    let blame_at = row.number("blame_at", old.map(|old| old.blame_at), 0.01..=0.99);
    let checked_at = row.number("checked_at", old.map(|old| old.checked_at), 0.0..=0.99);
    let significance = row.number("significance", old.map(|old| old.significance), 0.0001..=0.5);
    let questions_shown = row.value("questions_shown", old.map(|old| old.questions_shown), |item| {
        item.integer_in(1..=MOST_QUESTIONS).and_then(|shown| usize::try_from(shown).ok())
    });
    let source = row.source();
    Some(Thresholds {
        cut_at: cut_at?,
        identified_at: identified_at?,
        blame_at: blame_at?,
        checked_at: checked_at?,
        significance: significance?,
        questions_shown: questions_shown?,
        source: source?,
    })
}

fn stray(row: &Row<'_>, old: Option<&StrayThicknesses>) -> Option<StrayThicknesses> {
    let drum_web = row.spread("drum_web", old.map(|old| old.drum_web), Size::Positive);
    let brake_plate = row.spread("brake_plate", old.map(|old| old.brake_plate), Size::Positive);
    let caliper_bracket = row.spread("caliper_bracket", old.map(|old| old.caliper_bracket), Size::Positive);
    let lock_ring = row.spread("lock_ring", old.map(|old| old.lock_ring), Size::Positive);
    let shoulder_fillet = row.spread("shoulder_fillet", old.map(|old| old.shoulder_fillet), Size::Positive);
    let ring_seat_step = row.spread("ring_seat_step", old.map(|old| old.ring_seat_step), Size::NotNegative);
    let seal_journal_step = row.spread("seal_journal_step", old.map(|old| old.seal_journal_step), Size::NotNegative);
    let pinion_offset = row.spread("pinion_offset", old.map(|old| old.pinion_offset), Size::Signed);
    let side_to_side = row.length("side_to_side", old.map(|old| old.side_to_side), Size::Positive);
    let source = row.source();
    Some(StrayThicknesses {
        drum_web: drum_web?,
        brake_plate: brake_plate?,
        caliper_bracket: caliper_bracket?,
        lock_ring: lock_ring?,
        shoulder_fillet: shoulder_fillet?,
        ring_seat_step: ring_seat_step?,
        seal_journal_step: seal_journal_step?,
        pinion_offset: pinion_offset?,
        side_to_side: side_to_side?,
        source: source?,
    })
}

fn beliefs(row: &Row<'_>, old: Option<&Beliefs>) -> Option<Beliefs> {
    let claim_right = row.number("claim_right", old.map(|old| old.claim_right), 0.5..=0.9999);
    let unlisted_part = row.number("unlisted_part", old.map(|old| old.unlisted_part), 0.0001..=0.9999);
    let race_offset = row.spread("unlisted_race_offset", old.map(|old| old.unlisted_race_offset), Size::Signed);
    let interference = row.spread("unlisted_interference", old.map(|old| old.unlisted_interference), Size::NotNegative);
    let ring = row.length("ring_deviation", old.map(|old| old.ring_deviation), Size::Positive);
    let housing_bore = row.length("housing_bore_deviation", old.map(|old| old.housing_bore_deviation), Size::Positive);
    let hole_pattern = row.length("hole_pattern_deviation", old.map(|old| old.hole_pattern_deviation), Size::Positive);
    let bolt_hole = row.length("bolt_hole_deviation", old.map(|old| old.bolt_hole_deviation), Size::Positive);
    let bolt_circle = row.length("bolt_circle_deviation", old.map(|old| old.bolt_circle_deviation), Size::Positive);
    let brake = row.length("brake_deviation", old.map(|old| old.brake_deviation), Size::Positive);
    let tooth_thinning = row.spread("tooth_thinning", old.map(|old| old.tooth_thinning), Size::NotNegative);
    let access_hole = row.number("access_hole_factor", old.map(|old| old.access_hole_factor), 1.0..=20.0);
    let same_hand_share = row.number("same_hand_share", old.map(|old| old.same_hand_share), 0.0..=1.0);
    let scatter = row.value("scatter", old.map(|old| old.scatter.clone()), |item| scatter(&item));
    let implausible_below = row.number("implausible_below", old.map(|old| old.implausible_below), 1e-12..=0.1);
    let source = row.source();
    Some(Beliefs {
        claim_right: claim_right?,
        unlisted_part: unlisted_part?,
        unlisted_race_offset: race_offset?,
        unlisted_interference: interference?,
        ring_deviation: ring?,
        housing_bore_deviation: housing_bore?,
        hole_pattern_deviation: hole_pattern?,
        bolt_hole_deviation: bolt_hole?,
        bolt_circle_deviation: bolt_circle?,
        brake_deviation: brake?,
        tooth_thinning: tooth_thinning?,
        access_hole_factor: access_hole?,
        same_hand_share: same_hand_share?,
        scatter: scatter?,
        implausible_below: implausible_below?,
        source: source?,
    })
}

/// How near to one the shares must add up.
const SHARES_WITHIN: f64 = 1e-6;

/// The multiples with their shares, `[{ multiple = 1, share = 0.9 }, ...]`.
fn scatter(item: &Item<'_>) -> Option<Vec<Scatter>> {
    let list = item.list()?;
    let read: Vec<Option<Scatter>> = list
        .iter()
        .map(|entry| {
            let entry = Row::new(entry.table()?);
            let multiple = entry.number("multiple", None, 0.1..=20.0);
            let share = entry.positive("share", None, 1.0);
            entry.finish();
            Some(Scatter { multiple: multiple?, share: share? })
        })
        .collect();
    let levels = read.into_iter().collect::<Option<Vec<Scatter>>>()?;
    if levels.is_empty() || levels.len() > MOST_LEVELS {
        item.fault(format!("a list of {}", levels.len()), format!("1 to {MOST_LEVELS} multiples, each with its share"));
        return None;
    }
    if levels.windows(2).any(|pair| pair[1].multiple <= pair[0].multiple) {
        item.fault("the multiples are out of order", "each multiple once, the smallest first");
        return None;
    }
    let sum: f64 = levels.iter().map(|level| level.share).sum();
    if (sum - 1.0).abs() > SHARES_WITHIN {
        item.fault(format!("the shares add up to {sum}"), "shares that add up to 1");
        return None;
    }
    Some(levels)
}

/// Every one of them is weighed with every choice of parts.
const MOST_LEVELS: usize = 6;
