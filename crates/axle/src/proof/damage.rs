//! Damage of all load cases together: each takes its share of the shaft's life.

use super::figure::Gap;
use super::loads::Cases;
use super::sections::Beam;
use super::strength::{Prepared, case_damage};
use super::{FigureKind, ProofFigure};

const SOURCE: &str = "Palmgren and Miner, sum of cycles over the cycles that are borne; Goodman's line for the mean stress; slope \
     beyond a million cycles after Haibach (from memory, check); 99 % reliability";

/// The section that is hurt most, with the damage there.
pub(super) fn worst(prepared: &[Prepared], beam: &Beam, cases: &Cases) -> Result<(&'static str, f64), Gap> {
    let mut worst: Option<(&'static str, f64)> = None;
    for one in prepared {
        let damage = case_damage(one, beam, cases)?;
        if worst.is_none_or(|(_, most)| damage > most) {
            worst = Some((one.section.name, damage));
        }
    }
    worst.ok_or_else(|| Gap::size("load on the shaft"))
}

/// The figure at both ends.
pub(super) fn figure(harsh: (&'static str, f64), mild: (&'static str, f64)) -> ProofFigure {
    let (section, damage) = harsh;
    let end = match (damage < 1.0, mild.1 < 1.0) {
        (true, _) => "The shaft outlasts its distance even with every open input at its harsh end.",
        (false, true) => "A shaft breaks about when all of it is used: what the sheet leaves open decides.",
        (false, false) => "A shaft breaks about when all of it is used: this one would tire before its distance.",
    };
    ProofFigure {
        kind: FigureKind::FatigueDamage,
        harsh: damage,
        mild: mild.1,
        words: format!(
            "All load cases together use {} of the shaft's life at the harsh end, most in the {section}, and {} at the mild \
             end. {end}",
            share_text(damage),
            share_text(mild.1),
        ),
        source: SOURCE.to_owned(),
    }
}

/// A share of the life, rounded up, so that what is used up never reads as if something were left.
fn share_text(damage: f64) -> String {
    const MANY: f64 = 100.0;
    if damage >= MANY {
        format!("over {MANY:.0} times the whole")
    } else if damage >= 1.0 {
        format!("{:.1} times the whole", (damage * 10.0).ceil() / 10.0)
    } else if damage < 0.001 {
        "less than 0.1 %".to_owned()
    } else {
        format!("{:.1} %", (damage * 1000.0).ceil() / 10.0)
    }
}

#[cfg(test)]
mod tests {
    use super::share_text;

    #[test]
    fn a_share_is_rounded_up() {
        assert_eq!(share_text(0.9991), "100.0 %");
        assert_eq!(share_text(0.0), "less than 0.1 %");
        assert_eq!(share_text(3.21), "3.3 times the whole");
        assert_eq!(share_text(f64::INFINITY), "over 100 times the whole");
    }
}
