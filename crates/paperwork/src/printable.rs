//! Text that the fonts can set. What a font lacks must not stop a paper, and must not vanish from it.

use serde_json::Value;

/// Stands for a character that no font holds.
const STAND_IN: char = '□';

/// The value with every character that `covered` denies replaced.
pub fn printable(value: Value, covered: &dyn Fn(char) -> bool) -> Value {
    match value {
        Value::String(text) => Value::String(printable_text(&text, covered)),
        Value::Array(items) => Value::Array(items.into_iter().map(|item| printable(item, covered)).collect()),
        Value::Object(fields) => {
            Value::Object(fields.into_iter().map(|(key, item)| (key, printable(item, covered))).collect())
        }
        other => other,
    }
}

/// The text with every character that `covered` denies replaced; ends of lines become spaces.
pub fn printable_text(text: &str, covered: &dyn Fn(char) -> bool) -> String {
    text.chars()
        .map(|character| match character {
            space if space.is_whitespace() || space.is_control() => ' ',
            known if covered(known) => known,
            _ => STAND_IN,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::printable;

    #[test]
    fn what_no_font_holds_is_seen_and_nothing_else_changes() {
        let covered = |character: char| character.is_ascii();
        let value = serde_json::json!({ "name": "A\u{7}B\nc \u{4e2d}", "count": 3, "list": ["é"] });
        let expected = serde_json::json!({ "name": "A B c □", "count": 3, "list": ["□"] });
        assert_eq!(printable(value, &covered), expected);
    }
}
