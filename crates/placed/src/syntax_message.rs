//! Says in plain words what the parser found wrong with the syntax.

use std::ops::Range;

use crate::position::Source;

/// A fault in the syntax, in places of the original text.
#[derive(Debug)]
pub(crate) struct SyntaxFault {
    pub(crate) span: Range<usize>,
    pub(crate) problem: String,
    pub(crate) accepted: String,
    /// A key written twice is a fault, but nothing on its line is unreadable.
    pub(crate) is_duplicate: bool,
}

impl SyntaxFault {
    fn new(span: Range<usize>, problem: &str, accepted: impl Into<String>) -> SyntaxFault {
        SyntaxFault { span, problem: problem.to_owned(), accepted: accepted.into(), is_duplicate: false }
    }

    /// A value that is not closed; `text` is what can be seen of it.
    pub(crate) fn not_closed(span: Range<usize>, text: &str) -> SyntaxFault {
        let (problem, closing) = match text.chars().next() {
            Some('[') => ("the list is not closed", "]"),
            Some('{') => ("the table in braces is not closed", "}"),
            Some('\'') => ("the text is not closed", "'''"),
            _ => ("the text is not closed", "\"\"\""),
        };
        SyntaxFault::new(span, problem, format!("{closing} at its end"))
    }
}

/// What a fault swallows if nothing is done.
pub(crate) enum Swallowing {
    /// Everything behind its line.
    Line,
    /// The table whose name is not closed; the closing brackets that are missing.
    Name(&'static str),
    /// Everything behind the value that is not closed.
    Value,
}

/// The faults after which the parser loses more than a line, by its messages.
pub(crate) fn swallowing(message: &str) -> Option<Swallowing> {
    let (problem, expected) = split(message);
    Some(match problem {
        "key with no value" | "recursion limit" | "cannot recurse further; max recursion depth met" => Swallowing::Line,
        "unclosed table" => Swallowing::Name("]"),
        "unclosed array table" if expected.contains("]]") => Swallowing::Name("]]"),
        "unclosed array table" => Swallowing::Name("]"),
        "unclosed array"
        | "unclosed inline table"
        | "invalid multi-line literal string"
        | "invalid multi-line basic string" => Swallowing::Value,
        _ => return None,
    })
}

/// The parser's message in two parts: what is wrong, and what it expected.
fn split(message: &str) -> (&str, &str) {
    message.split_once(", expected ").unwrap_or((message, ""))
}

/// Puts the parser's message into plain words, with the text it blames and a proposal that fits.
pub(crate) fn describe(source: &Source, span: Range<usize>, message: &str) -> SyntaxFault {
    let (problem, expected) = split(message);
    let line = source.line_range(source.line_of(span.start));
    let rest_of_line = span.start..line.end.max(span.start);
    match problem {
        "duplicate key" => {
            let key = source.slice(span.clone()).to_owned();
            let problem = format!("`{key}` is written twice");
            let mut fault = SyntaxFault::new(span, &problem, "each key once in its table");
            fault.is_duplicate = true;
            fault
        }
        "missing opening quote" | "string values must be quoted" => match unquoted(source, &line, span.start) {
            Some((value, proposal)) => SyntaxFault::new(value, "text stands without quotation marks", proposal),
            None => SyntaxFault::new(span, "the value is missing", "a value behind ="),
        },
        "unexpected key or value" => {
            SyntaxFault::new(rest_of_line, "something stands behind the value", behind_value_proposal(source, &line))
        }
        "key with no value" => SyntaxFault::new(line, "the line is no key with a value", "key = value"),
        "unclosed table" | "unclosed array table" => SyntaxFault::new(
            line,
            "the name of the table is not closed",
            format!("{} at its end", expected.trim_matches('`')),
        ),
        "invalid basic string" => SyntaxFault::new(rest_of_line, "the text is not closed", "\" at its end"),
        "invalid literal string" => SyntaxFault::new(rest_of_line, "the text is not closed", "' at its end"),
        "invalid unquoted key" => SyntaxFault::new(
            span,
            "the key holds letters that need quotation marks",
            "a key of the letters a to z, digits, - and _",
        ),
        "unquoted keys cannot be empty" => SyntaxFault::new(span, "the key is missing", "a key before ="),
        "invalid mantissa" => {
            SyntaxFault::new(rest_of_line, "a number has digits before and behind its point", "a number such as 0.5")
        }
        "unexpected leading zero" => {
            SyntaxFault::new(span, "a number does not begin with a nought", "the number without it")
        }
        _ => other(span, problem, expected),
    }
}

/// A message that is plain enough, with what the parser expected as what is accepted.
fn other(span: Range<usize>, problem: &str, expected: &str) -> SyntaxFault {
    let accepted = match expected {
        "" => "TOML, such as key = value",
        "nothing" => "nothing here",
        expected => expected,
    };
    SyntaxFault::new(span, problem, accepted)
}

/// The text that stands without quotation marks up to the end of its line or a comment, and how it
/// would be written with them.
fn unquoted(source: &Source, line: &Range<usize>, start: usize) -> Option<(Range<usize>, String)> {
    let rest = source.slice(start..line.end.max(start));
    let text = rest.split(" #").next().unwrap_or(rest).trim_end();
    let text = text.trim_end_matches([',', ']', '}', ' ']);
    if text.is_empty() {
        return None;
    }
    Some((start..start + text.len(), quoted(text)))
}

/// A proposal for a line on which something stands behind the value: everything within one pair of
/// quotation marks, for this is most often an inch mark that closed the text too early.
fn behind_value_proposal(source: &Source, line: &Range<usize>) -> String {
    let text = source.slice(line.clone());
    let value = text.split_once('=').map_or("", |(_, value)| value.trim());
    let inner = value.strip_prefix('"').and_then(|inner| inner.strip_suffix('"'));
    match inner {
        Some(inner) if !inner.contains(['#', '\\']) => quoted(inner),
        _ => "one value, with nothing but a comment behind it".to_owned(),
    }
}

/// The text in quotation marks that it does not hold itself.
fn quoted(text: &str) -> String {
    if !text.contains('"') && !text.contains('\\') {
        format!("\"{text}\"")
    } else if !text.contains('\'') {
        format!("'{text}'")
    } else {
        format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
    }
}
