//! The report in text.

use anstream::adapter::strip_str;
use axlewright::{Page, cautions_report, order_report, origin_report};
use quantity::Leading;
use unicode_width::UnicodeWidthStr;

use crate::made::{from_a_stranger, to_ask, to_cut, to_stop};

fn page(columns: usize, leading: Leading) -> Page {
    Page { columns, leading, checked_at: 0.1 }
}

fn report(review: &axle::Review, page: &Page) -> String {
    strip_str(&order_report("orders/sheet.toml", review, page)).to_string()
}

#[test]
fn an_order_to_cut_in_millimetres() {
    insta::assert_snapshot!("text_to_cut", report(&to_cut(), &page(100, Leading::Millimetres)));
}

#[test]
fn an_order_to_ask_about_in_inches() {
    insta::assert_snapshot!("text_to_ask", report(&to_ask(), &page(100, Leading::Inches)));
}

#[test]
fn an_order_to_ask_about_on_the_narrowest_page() {
    insta::assert_snapshot!("text_to_ask_narrow", report(&to_ask(), &page(Page::NARROWEST, Leading::Inches)));
}

#[test]
fn an_order_to_stop() {
    insta::assert_snapshot!("text_to_stop", report(&to_stop(), &page(80, Leading::Inches)));
}

#[test]
fn the_origin_of_a_size() {
    let review = to_ask();
    let chosen: Vec<&axle::Dimension> = review.dimensions.iter().take(1).collect();
    let text = origin_report(&review, &chosen, &page(80, Leading::Inches));
    insta::assert_snapshot!("text_origin", strip_str(&text).to_string());
}

#[test]
fn the_cautions_are_given_in_full() {
    let text = strip_str(&cautions_report(100)).to_string();
    for caution in axle::CAUTIONS {
        assert!(text.contains(caution), "{caution} is not in:\n{text}");
    }
}

#[test]
fn no_line_is_wider_than_the_page_or_ends_in_spaces() {
    for review in [to_cut(), to_ask(), to_stop()] {
        for columns in [Page::NARROWEST, 90, Page::WIDEST] {
            for leading in [Leading::Inches, Leading::Millimetres] {
                for line in report(&review, &page(columns, leading)).lines() {
                    assert!(line.width() <= columns, "{} columns and not {columns}: {line}", line.width());
                    assert_eq!(line.trim_end(), line);
                }
            }
        }
    }
}

#[test]
fn the_words_of_a_stranger_neither_move_the_cursor_nor_leave_the_page() {
    let text = report(&from_a_stranger(), &page(80, Leading::Inches));
    // The report itself ends lines and does nothing else with control characters.
    let unwanted: Vec<char> =
        text.chars().filter(|c| (c.is_control() && *c != '\n') || ('\u{202a}'..='\u{202e}').contains(c)).collect();
    assert_eq!(unwanted, Vec::<char>::new());
    for line in text.lines() {
        assert!(line.width() <= 80, "{} columns: {line}", line.width());
    }
}

#[test]
fn colour_only_repeats_what_words_say() {
    let review = to_ask();
    let page = page(80, Leading::Inches);
    let coloured = order_report("sheet.toml", &review, &page);
    assert!(coloured.contains("\u{1b}["), "nothing is coloured");
    let plain = strip_str(&coloured).to_string();
    for word in ["ASK", "FAILED", "passed", "(undecided)", "not released"] {
        assert!(plain.contains(word), "`{word}` is not in:\n{plain}");
    }
}
