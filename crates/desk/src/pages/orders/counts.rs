//! How many orders stand where, as a row of filters.

use book::{Judgement, State};
use maud::{Markup, html};

use super::filter::Filter;
use crate::marks;

/// The states with their counts, and the verdicts.
pub(super) fn chips(filter: &Filter, counts: &[(State, i64)]) -> Markup {
    html! {
        nav #chips .chips data-part aria-label="Filter" {
            ul {
                li { a href=(filter.without_states()) aria-current=[filter.states().is_empty().then_some("true")] { "all" } }
                @for (state, count) in counts {
                    li {
                        a href=(filter.with_state(*state)) aria-current=[filter.states().contains(state).then_some("true")] {
                            (state.words()) " " span .count { (count) }
                        }
                    }
                }
                @if filter.searches() { li .of-all { "counted over all orders" } }
            }
            ul {
                @for judgement in Judgement::ALL {
                    li {
                        a href=(filter.with_judgement(judgement))
                            aria-current=[filter.judgements().contains(&judgement).then_some("true")] {
                            (marks::judgement(judgement))
                        }
                    }
                }
            }
        }
    }
}
