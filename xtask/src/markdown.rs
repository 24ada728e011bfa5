//! Fenced code blocks of a Markdown text, and the HTML comment that may stand above one as its marker.

/// One fenced code block. Lines are counted from one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// The comment on the nearest line above that is not blank, without its brackets, and its line.
    pub marker: Option<Marker>,
    /// The line of the opening fence.
    pub opened: usize,
    /// The backticks or tildes that opened it, which must also close it.
    pub fence: String,
    /// The lines between the fences.
    pub lines: Vec<String>,
    /// Whether a closing fence was found.
    pub closed: bool,
}

/// A comment that fills a line of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Marker {
    /// Its line.
    pub line: usize,
    /// What it says: for `<!-- test command -->` it is `test command`.
    pub says: String,
}

/// A Markdown text, read only for its fenced blocks and its comments.
#[derive(Debug, Default)]
pub struct Markdown {
    /// All fenced blocks, in order.
    pub blocks: Vec<Block>,
    /// The comments outside blocks that no block follows.
    pub loose: Vec<Marker>,
}

/// Reads a Markdown text.
pub fn read(text: &str) -> Markdown {
    let mut markdown = Markdown::default();
    let mut pending: Option<Marker> = None;
    let mut open: Option<Block> = None;
    for (index, line) in text.lines().enumerate() {
        let number = index + 1;
        let trimmed = line.trim();
        if let Some(mut block) = open.take() {
            if trimmed == block.fence {
                block.closed = true;
                markdown.blocks.push(block);
            } else {
                block.lines.push(line.to_owned());
                open = Some(block);
            }
        } else if let Some(fence) = opening_fence(trimmed) {
            open = Some(Block { marker: pending.take(), opened: number, fence, lines: Vec::new(), closed: false });
        } else if !trimmed.is_empty() {
            markdown.loose.extend(pending.take());
            pending = comment(trimmed).map(|says| Marker { line: number, says });
        }
    }
    markdown.loose.extend(pending);
    markdown.blocks.extend(open);
    markdown
}

/// The fence that a line opens, if it opens one.
fn opening_fence(trimmed: &str) -> Option<String> {
    ['`', '~'].into_iter().find_map(|mark| {
        let fence: String = trimmed.chars().take_while(|c| *c == mark).collect();
        let info = &trimmed[fence.len()..];
        (fence.len() >= 3 && !info.contains(mark)).then_some(fence)
    })
}

/// What a comment that fills the line says.
fn comment(trimmed: &str) -> Option<String> {
    let inner = trimmed.strip_prefix("<!--")?.strip_suffix("-->")?;
    Some(inner.trim().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_marker_belongs_to_the_block_right_below_it() {
        let markdown = read("<!-- test command -->\n\n```sh\n./test\n```\n");
        assert_eq!(markdown.blocks.len(), 1);
        let block = &markdown.blocks[0];
        assert_eq!(block.marker, Some(Marker { line: 1, says: "test command".to_owned() }));
        assert_eq!((block.opened, block.lines.as_slice()), (3, &["./test".to_owned()][..]));
        assert!(block.closed);
        assert!(markdown.loose.is_empty());
    }

    #[test]
    fn prose_between_marker_and_block_leaves_the_marker_loose() {
        let markdown = read("<!-- map -->\nSome words.\n```\na\n```\n");
        assert_eq!(markdown.blocks[0].marker, None);
        assert_eq!(markdown.loose[0].says, "map");
    }

    #[test]
    fn a_marker_inside_a_block_is_text() {
        let markdown = read("````\n<!-- map -->\n```\n````\n");
        assert_eq!(markdown.blocks.len(), 1);
        assert_eq!(markdown.blocks[0].lines, ["<!-- map -->", "```"]);
        assert!(markdown.loose.is_empty());
    }

    #[test]
    fn a_block_without_an_end_is_reported_open() {
        assert!(!read("```\na\n").blocks[0].closed);
    }
}
