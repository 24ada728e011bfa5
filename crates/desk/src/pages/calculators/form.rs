//! The form of a calculation, built out of its table, with each fault beside its field.

use calculation::{Calculator, Choices, Field, Refusal, Refusals};
use catalog::Catalog;
use maud::{Markup, html};

/// The form. Its result is taken over while one types, and with it the faults.
pub(super) fn form(
    calculator: &Calculator,
    filled: &[(String, String)],
    refusals: Option<&Refusals>,
    catalog: &Catalog,
) -> Markup {
    let faults: Vec<(Option<String>, &Refusal)> =
        refusals.into_iter().flat_map(Refusals::iter).map(|one| (calculator.field_of(&one.argument), one)).collect();
    html! {
        form .sheet-form method="get" action={ "/calculators/" (calculator.key) } data-swap="outcome" {
            @for group in calculator.groups {
                fieldset {
                    legend { (group.title) }
                    div .fields {
                        @for field in group.fields.iter().filter_map(|id| calculator.field(id, catalog)) {
                            @let text = filled.iter().find(|(id, _)| *id == field.id).map_or("", |(_, text)| text.as_str());
                            (one(calculator, &field, text, &faults))
                        }
                    }
                }
            }
            div .bar {
                button .main { "Compute" }
                a .button href={ "/calculators/" (calculator.key) } { "Empty the form" }
            }
        }
    }
}

fn one(calculator: &Calculator, field: &Field, text: &str, faults: &[(Option<String>, &Refusal)]) -> Markup {
    let own: Vec<&Refusal> =
        faults.iter().filter(|(id, _)| id.as_ref() == Some(&field.id)).map(|(_, refusal)| *refusal).collect();
    let hint = format!("{}-hint", field.id);
    let fault = format!("{}-fault", field.id);
    let described = format!("{hint} {fault}");
    let wrong = own.iter().any(|refusal| !refusal.text.is_empty());
    html! {
        div .field {
            label for=(field.id) { (field.label) @if field.required { span .soft { " (required)" } } }
            @match &field.choices {
                Choices::Words(words) => {
                    select id=(field.id) name=(field.id) aria-describedby=(described) aria-invalid=[wrong.then_some("true")] {
                        option value="" { "not said" }
                        // A word that is none of them came in the address; it stays, so that its fault can be seen.
                        @if !text.is_empty() && !words.iter().any(|(value, _)| value == text) {
                            option value=(text) selected { (text) }
                        }
                        @for (value, shown) in words { option value=(value) selected[value == text] { (shown) } }
                    }
                }
                Choices::Free => {
                    input id=(field.id) name=(field.id) value=(text) autocomplete="off" spellcheck="false" maxlength="200"
                        aria-describedby=(described) aria-invalid=[wrong.then_some("true")];
                }
            }
            span .hint id=(hint) {
                // What only says the label once more is left out.
                @let help = if field.help == field.label { "" } else { field.help.as_str() };
                (help)
                @if !field.shape.is_empty() && !field.help.contains(field.shape) { @if !help.is_empty() { ": " } span .shape { (field.shape) } }
            }
            span .faults id=(fault) data-part {
                @for refusal in own {
                    @if refusal.text.is_empty() {
                        span .wanted { "Still needed: " (calculator.in_labels(&refusal.accepted)) }
                    } @else {
                        span .fault {
                            (calculator.in_labels(&refusal.problem))
                            @if let Some(blamed) = blamed(refusal) { ": " mark { (blamed) } }
                            @if !refusal.accepted.is_empty() { ". Accepted: " (calculator.in_labels(&refusal.accepted)) }
                        }
                    }
                }
            }
        }
    }
}

/// The part of the text that is to blame, where it is not all of it.
fn blamed(refusal: &Refusal) -> Option<&str> {
    refusal.text.get(refusal.at.clone()).filter(|part| !part.is_empty() && part.len() < refusal.text.len())
}
