//! Colour and weight of words.

use anstyle::{AnsiColor, Style};

/// How a run of words is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// As everything else.
    Plain,
    /// Heavier.
    Strong,
    /// Lighter: what only explains.
    Faint,
    /// Good news.
    Good,
    /// Something to look into.
    Doubtful,
    /// Bad news.
    Bad,
}

impl Ink {
    /// The ink of a verdict.
    pub fn of(verdict: axle::Verdict) -> Self {
        match verdict {
            axle::Verdict::Cut => Self::Good,
            axle::Verdict::Ask => Self::Doubtful,
            axle::Verdict::Stop => Self::Bad,
        }
    }

    fn style(self) -> Style {
        let coloured = |colour: AnsiColor| Style::new().bold().fg_color(Some(colour.into()));
        match self {
            Self::Plain => Style::new(),
            Self::Strong => Style::new().bold(),
            Self::Faint => Style::new().dimmed(),
            Self::Good => coloured(AnsiColor::Green),
            Self::Doubtful => coloured(AnsiColor::Yellow),
            Self::Bad => coloured(AnsiColor::Red),
        }
    }

    /// The words in this ink.
    pub fn paint(self, words: &str) -> String {
        if words.is_empty() {
            return String::new();
        }
        let style = self.style();
        format!("{style}{words}{style:#}")
    }
}
