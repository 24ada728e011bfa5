//! An uncertainty budget: the components, what they combine to, and how far to trust that.

use crate::quantile::student_t_quantile;
use crate::uncertainty_error::UncertaintyError;

/// One row of an uncertainty budget.
#[derive(Clone, Debug, PartialEq)]
pub struct Component {
    /// What the uncertainty comes from.
    pub name: String,
    /// Standard uncertainty of the input, in the input's own unit.
    pub standard_uncertainty: f64,
    /// Change of the result for one unit of the input.
    pub sensitivity: f64,
    /// Degrees of freedom of the standard uncertainty; infinite if it is taken as known.
    pub degrees_of_freedom: f64,
}

impl Component {
    /// A component that adds to the result one to one, its uncertainty taken as known.
    ///
    /// Limits that the quantity cannot leave give infinite degrees of freedom (JCGM 100:2008, G.4.3).
    pub fn known(name: &str, standard_uncertainty: f64) -> Component {
        Component { name: name.to_owned(), standard_uncertainty, sensitivity: 1.0, degrees_of_freedom: f64::INFINITY }
    }

    /// What the component adds to the standard uncertainty of the result, in the result's unit.
    pub fn contribution(&self) -> f64 {
        (self.sensitivity * self.standard_uncertainty).abs()
    }
}

/// A term of second order: where the result bends, or where two inputs multiply.
///
/// Source: JCGM 100:2008, 5.1.2 note, for results whose third derivatives are nought.
#[derive(Clone, Debug, PartialEq)]
pub struct SecondOrder {
    name: String,
    contribution: f64,
}

impl SecondOrder {
    /// Two inputs that multiply: `|∂²f/∂x∂y| u(x) u(y)`.
    pub fn product(
        name: &str,
        mixed_derivative: f64,
        first_standard_uncertainty: f64,
        second_standard_uncertainty: f64,
    ) -> SecondOrder {
        let contribution = mixed_derivative * first_standard_uncertainty * second_standard_uncertainty;
        SecondOrder { name: name.to_owned(), contribution: contribution.abs() }
    }

    /// One input in which the result bends: `|∂²f/∂x²| u²(x) / √2`.
    pub fn curvature(name: &str, second_derivative: f64, standard_uncertainty: f64) -> SecondOrder {
        let contribution = second_derivative * standard_uncertainty.powi(2) / 2_f64.sqrt();
        SecondOrder { name: name.to_owned(), contribution: contribution.abs() }
    }

    /// What the term comes from.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What the term adds to the standard uncertainty of the result, in the result's unit.
    pub fn contribution(&self) -> f64 {
        self.contribution
    }
}

/// The independent components of one result's uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    components: Vec<Component>,
    second_order: Vec<SecondOrder>,
}

/// An uncertainty expanded to an interval that holds the quantity with a stated probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expanded {
    /// Half-width of the interval, in the result's unit.
    pub uncertainty: f64,
    /// The factor between it and the combined standard uncertainty.
    pub coverage_factor: f64,
    /// The degrees of freedom that the factor was taken for, already whole, or infinite.
    pub degrees_of_freedom: f64,
    /// The probability that the interval holds the quantity.
    pub probability: f64,
}

impl Budget {
    /// A budget of independent components.
    ///
    /// ```
    /// use quantity::{Budget, Component};
    /// let budget = Budget::new(vec![
    ///     Component::known("limit of the caliper", 0.0173),
    ///     Component::known("resolution", 0.0029),
    ///     Component::known("repeatability", 0.0100),
    /// ]);
    /// assert!((budget.combined() - 0.0202).abs() < 5e-5);
    /// ```
    pub fn new(components: Vec<Component>) -> Budget {
        Budget { components, second_order: Vec::new() }
    }

    /// The same budget with a term of second order added.
    pub fn with_second_order(mut self, term: SecondOrder) -> Budget {
        self.second_order.push(term);
        self
    }

    /// The components, in the order they were given.
    pub fn components(&self) -> &[Component] {
        &self.components
    }

    /// The terms of second order, in the order they were added.
    pub fn second_order(&self) -> &[SecondOrder] {
        &self.second_order
    }

    /// The combined standard uncertainty of the result, terms of second order included.
    ///
    /// `u_c² = Σ (c u(x))²` and the squares of the terms of second order.
    ///
    /// Source: JCGM 100:2008, 5.1.2, equation (10) and its note.
    pub fn combined(&self) -> f64 {
        let second_order = self.second_order.iter().map(SecondOrder::contribution);
        self.components
            .iter()
            .map(Component::contribution)
            .chain(second_order)
            .map(|contribution| contribution * contribution)
            .sum::<f64>()
            .sqrt()
    }

    /// The effective degrees of freedom, not yet made whole; infinite if every component is known.
    ///
    /// `ν_eff = u_c⁴ / Σ (u⁴ / ν)`, the formula of Welch and Satterthwaite. It is for components of
    /// first order; terms of second order are left out on both sides.
    ///
    /// Source: JCGM 100:2008, G.4.1, equation (G.2b).
    pub fn effective_degrees_of_freedom(&self) -> f64 {
        let mut variance = 0.0;
        let mut spread_of_variance = 0.0;
        for component in &self.components {
            let square = component.contribution().powi(2);
            variance += square;
            if square > 0.0 {
                spread_of_variance += square * square / component.degrees_of_freedom;
            }
        }
        if spread_of_variance == 0.0 { f64::INFINITY } else { variance * variance / spread_of_variance }
    }

    /// The combined uncertainty times the factor of Student's distribution for a two-sided interval.
    ///
    /// The effective degrees of freedom are cut down to the next whole number.
    ///
    /// Source: JCGM 100:2008, G.4.1 and G.6.4.
    ///
    /// # Errors
    ///
    /// [`UncertaintyError::Probability`] unless the probability lies between 0 and 1 − 2e-6;
    /// [`UncertaintyError::DegreesOfFreedom`] if less than one degree is left.
    ///
    /// ```
    /// use quantity::{Budget, Component};
    /// let budget = Budget::new(vec![Component::known("all", 2.0)]);
    /// assert!((budget.expanded(0.95)?.uncertainty - 3.92).abs() < 0.0005);
    /// # Ok::<(), quantity::UncertaintyError>(())
    /// ```
    pub fn expanded(&self, probability: f64) -> Result<Expanded, UncertaintyError> {
        /// The formula rounds; eight degrees that come out a hair short are still eight.
        const HAIR: f64 = 1e-9;

        let degrees_of_freedom = (self.effective_degrees_of_freedom() + HAIR).floor();
        if degrees_of_freedom.is_nan() || degrees_of_freedom < 1.0 {
            return Err(UncertaintyError::DegreesOfFreedom { degrees_of_freedom });
        }
        let (least, most) = (0.0, 1.0 - 2e-6);
        if !(least..=most).contains(&probability) {
            return Err(UncertaintyError::Probability { probability, least, most });
        }
        let coverage_factor = student_t_quantile(0.5 + 0.5 * probability, degrees_of_freedom)?;
        Ok(Expanded {
            uncertainty: coverage_factor * self.combined(),
            coverage_factor,
            degrees_of_freedom,
            probability,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::{Budget, Component, SecondOrder};
    use crate::uncertainty_error::UncertaintyError;

    fn component(standard_uncertainty: f64, degrees_of_freedom: f64) -> Component {
        Component { degrees_of_freedom, ..Component::known("part", standard_uncertainty) }
    }

    #[test]
    fn one_component_keeps_its_own_degrees_of_freedom() {
        for degrees in 1..200 {
            let degrees = f64::from(degrees);
            let budget = Budget::new(vec![component(0.37, degrees)]);
            let expanded = budget.expanded(0.95).unwrap();
            assert_eq!(expanded.degrees_of_freedom, degrees);
        }
    }

    #[test]
    fn a_budget_of_known_components_is_normal() {
        let budget = Budget::new(vec![component(3.0, f64::INFINITY), component(0.0, 1.0)]);
        let expanded = budget.expanded(0.99).unwrap();
        assert_eq!(expanded.degrees_of_freedom, f64::INFINITY);
        assert!((expanded.coverage_factor - 2.575829).abs() < 1e-6);
    }

    #[test]
    fn too_little_knowledge_is_refused() {
        let budget = Budget::new(vec![component(1.0, 0.5)]);
        assert_eq!(budget.expanded(0.95), Err(UncertaintyError::DegreesOfFreedom { degrees_of_freedom: 0.0 }));
        let known = Budget::new(vec![component(1.0, 5.0)]);
        for probability in [-0.5, 1.0, f64::NAN] {
            assert!(matches!(known.expanded(probability), Err(UncertaintyError::Probability { .. })));
        }
    }

    #[test]
    fn jcgm_100_5_1_2_note_second_order_terms_match_the_exact_variance() {
        // x y with both means nought has the variance u²(x) u²(y); x² with mean nought and a normal
        // x has the variance 2 u⁴(x).
        let product = Budget::new(vec![]).with_second_order(SecondOrder::product("xy", 1.0, 2.0, 3.0));
        assert_eq!(product.combined(), 6.0);
        let square = Budget::new(vec![]).with_second_order(SecondOrder::curvature("xx", 2.0, 3.0));
        assert!((square.combined() - 2_f64.sqrt() * 9.0).abs() < 1e-12);
    }
}
