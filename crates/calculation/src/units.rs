//! Forces, distances and stresses as people write them.

use quantity::{KSI_MPA, MILE_KM, POUND_FORCE_N};

use super::inputs::{Inputs, Words};

/// Spellings of units, with what each is worth in newtons, kilometres or megapascals.
type Units = &'static [(&'static str, f64)];

const FORCES: Units = &[("N", 1.0), ("kN", 1000.0), ("lbf", POUND_FORCE_N), ("lb", POUND_FORCE_N)];
const DISTANCES: Units = &[("km", 1.0), ("mi", MILE_KM), ("miles", MILE_KM), ("mile", MILE_KM)];
const STRESSES: Units =
    &[("MPa", 1.0), ("GPa", 1000.0), ("psi", KSI_MPA / 1000.0), ("ksi", KSI_MPA), ("Mpsi", KSI_MPA * 1000.0)];

impl Inputs {
    /// Reads a force, in newtons.
    pub fn force(&mut self, argument: &'static str, words: &Words) -> Option<f64> {
        self.with_unit(argument, words, FORCES, "a number with its unit: N, kN or lbf, such as 4.0 kN or 900 lbf")
    }

    /// Reads a distance travelled, in kilometres.
    pub fn distance(&mut self, argument: &'static str, words: &Words) -> Option<f64> {
        self.with_unit(argument, words, DISTANCES, "a number with its unit: km or mi, such as 100000 mi")
    }

    /// Reads the proof stress of a stud, in megapascals, and refuses one that no stud has.
    pub fn proof_stress(&mut self, argument: &'static str, words: &Words) -> Option<f64> {
        /// Far below the softest and far above the hardest class of ISO 898-1, whose proof stresses are 225 and 970 MPa (from
        /// memory, check): what lies beyond is an elastic modulus or a slip of the unit.
        const BELIEVED_MPA: std::ops::RangeInclusive<f64> = 100.0..=2000.0;
        let accepted = "a stress from 100 to 2000 MPa (14.5 to 290 ksi), such as 830 MPa or 120 ksi";
        let megapascals = self.with_unit(argument, words, STRESSES, accepted)?;
        if BELIEVED_MPA.contains(&megapascals) {
            return Some(megapascals);
        }
        let text = words.as_ref()?.join(" ");
        self.refuse(argument, &text, "no stud has such a proof stress", accepted);
        None
    }

    /// Reads an elastic modulus, in megapascals.
    pub fn modulus(&mut self, argument: &'static str, words: &Words) -> Option<f64> {
        let accepted = "a number with its unit: MPa, GPa, psi, ksi or Mpsi, such as 207 GPa";
        self.with_unit(argument, words, STRESSES, accepted)
    }

    fn with_unit(&mut self, argument: &'static str, words: &Words, units: Units, accepted: &str) -> Option<f64> {
        let text = words.as_ref()?.join(" ");
        let digits = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
        let (number, unit) = text.split_at(digits);
        let Some(value) = super::inputs::plain_number(number) else {
            self.refuse_part(argument, &text, 0..digits.max(1).min(text.len()), "this is no number", accepted);
            return None;
        };
        let unit = unit.trim();
        let at = text.len() - unit.len()..text.len();
        if unit.is_empty() {
            self.refuse(argument, &text, "the number has no unit", accepted);
            return None;
        }
        match units.iter().find(|(spelling, _)| *spelling == unit) {
            Some((_, factor)) => Some(value * factor),
            None => {
                self.refuse_part(argument, &text, at, format!("the unit {unit:?} is not known here"), accepted);
                None
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Inputs;
    use super::Words;

    fn words(text: &str) -> Words {
        Some(text.split(' ').map(str::to_owned).collect())
    }

    #[test]
    fn forces_are_read_in_the_units_of_the_trade() {
        let mut inputs = Inputs::new(Some("in"));
        assert_eq!(inputs.force("--radial", &words("4.0 kN")), Some(4000.0));
        assert_eq!(inputs.force("--radial", &words("4.0kN")), Some(4000.0));
        assert_eq!(inputs.force("--radial", &words("1 lbf")), Some(4.448_221_615_260_5));
        assert_eq!(inputs.force("--radial", &None), None);
        assert_eq!(inputs.settle(), Ok(()));
    }

    #[test]
    fn a_proof_stress_is_one_that_studs_have() {
        let mut inputs = Inputs::new(None);
        assert_eq!(inputs.proof_stress("--proof", &words("830 MPa")), Some(830.0));
        assert!(inputs.proof_stress("--proof", &words("120 ksi")).is_some());
        assert_eq!(inputs.settle(), Ok(()));
        for absurd in ["207 GPa", "30 Mpsi", "120 psi", "0 MPa"] {
            assert_eq!(inputs.proof_stress("--proof", &words(absurd)), None, "{absurd}");
            let said = inputs.settle().unwrap_err().to_string();
            assert!(said.contains("accepted: a stress from 100 to 2000 MPa (14.5 to 290 ksi)"), "{said}");
        }
    }
}
