//! A tolerant look at the brackets of a RON text, to find places in it.
//!
//! The reader proper says what a file holds and stops at the first thing that it cannot take.
//! This one takes anything, understands nothing, and knows where every value begins. It is used
//! only when something is wrong, and to see whether somebody wrote comments.

use super::amiss::Step;

/// Brackets deeper than this are not looked into; our own files have six.
const DEEPEST: usize = 64;

/// A value and where it begins.
#[derive(Debug)]
pub(super) struct Node<'t> {
    /// The first byte.
    pub(super) at: usize,
    /// The text of a word, number or string, quotes included; the name before a bracket.
    pub(super) word: &'t str,
    /// What stands in the bracket.
    pub(super) items: Vec<Item<'t>>,
    /// One past the last byte.
    end: usize,
}

/// A thing in a bracket.
#[derive(Debug)]
pub(super) struct Item<'t> {
    /// The name or key before the colon.
    pub(super) key: Option<Node<'t>>,
    /// The value.
    pub(super) value: Node<'t>,
}

/// What is wrong with the brackets of a text, if anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slip {
    /// The text ends while the bracket at this byte is open.
    Open(usize),
    /// The text ends inside the string or comment that begins at this byte.
    Unended(usize),
    /// The bracket at the first byte is closed by the wrong one at the second.
    Crossed(usize, usize),
    /// The bracket at this byte closes nothing.
    Extra(usize),
}

/// A text as brackets.
#[derive(Debug)]
pub(super) struct Tree<'t> {
    /// The outermost value.
    pub(super) root: Node<'t>,
    /// The first thing wrong with the brackets.
    pub(super) slip: Option<Slip>,
    /// Whether anybody wrote a comment.
    pub(super) has_comments: bool,
}

impl<'t> Tree<'t> {
    /// Looks at a text.
    pub(super) fn of(text: &'t str) -> Self {
        let mut scan = Scan { text, at: 0, open: Vec::new(), slip: None, has_comments: false };
        scan.skip_attributes();
        let root = scan.value(0);
        scan.space();
        if scan.slip.is_none() && matches!(scan.peek(), Some(b')' | b']' | b'}')) {
            scan.slip = Some(Slip::Extra(scan.at));
        }
        Self { root, slip: scan.slip, has_comments: scan.has_comments }
    }

    /// The byte at which the value at the end of a trail begins, or the last one on the way to it.
    pub(super) fn find(&self, trail: &[Step]) -> usize {
        let mut node = &self.root;
        let mut at = node.at;
        for step in trail {
            let item = match step {
                Step::Field(name) => node.inside().field(name),
                Step::Item(n) => node.inside().items.get(*n),
            };
            let Some(item) = item else { break };
            node = &item.value;
            at = match (step, &item.key) {
                (Step::Item(_), Some(key)) => key.at,
                _ => node.at,
            };
        }
        at
    }

    /// Where the innermost value that has `at` inside a bracket of its own begins.
    pub(super) fn bracket_around(&self, at: usize) -> usize {
        let mut node = &self.root;
        let around = |node: &Node<'_>| node.at < at && at < node.end;
        while let Some(item) = node.items.iter().find(|item| around(&item.value)) {
            node = &item.value;
        }
        node.at
    }
}

impl<'t> Node<'t> {
    /// The item of this name.
    pub(super) fn field(&self, name: &str) -> Option<&Item<'t>> {
        self.items.iter().find(|item| item.key.as_ref().is_some_and(|key| key.word == name))
    }

    /// The value of the item of this name, whatever the name of its bracket.
    pub(super) fn value(&self, name: &str) -> Option<&Node<'t>> {
        self.field(name).map(|item| item.value.inside())
    }

    /// What a string says.
    pub(super) fn string(&self) -> Option<String> {
        ron::from_str(self.word).ok()
    }

    /// What is inside `Some(…)`, or the value itself.
    fn inside(&self) -> &Self {
        match &*self.items {
            [only] if self.word == "Some" && only.key.is_none() => &only.value,
            _ => self,
        }
    }
}

struct Scan<'t> {
    text: &'t str,
    at: usize,
    /// Where the brackets around us were opened.
    open: Vec<(usize, u8)>,
    slip: Option<Slip>,
    has_comments: bool,
}

impl<'t> Scan<'t> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn rest(&self) -> &'t [u8] {
        self.text.as_bytes().get(self.at..).unwrap_or_default()
    }

    fn slip(&mut self, slip: Slip) {
        self.slip.get_or_insert(slip);
        self.at = self.text.len();
    }

    /// Moves past white space and comments.
    fn space(&mut self) {
        loop {
            match self.rest() {
                [b'/', b'/', ..] => {
                    self.has_comments = true;
                    self.skip_while(|b| b != b'\n');
                }
                [b'/', b'*', ..] => self.block_comment(),
                [b, ..] if b.is_ascii_whitespace() || *b == 0x0b => self.at += 1,
                // White space that is not ASCII is rare enough to be looked at slowly.
                [b, ..] if !b.is_ascii() => {
                    let c = self.text.get(self.at..).and_then(|rest| rest.chars().next());
                    match c {
                        Some(c) if c.is_whitespace() => self.at += c.len_utf8(),
                        _ => return,
                    }
                }
                _ => return,
            }
        }
    }

    fn skip_while(&mut self, takes: impl Fn(u8) -> bool) {
        self.at += self.rest().iter().take_while(|&&b| takes(b)).count();
    }

    fn block_comment(&mut self) {
        self.has_comments = true;
        let start = self.at;
        let mut depth = 0_usize;
        loop {
            match self.rest() {
                [b'/', b'*', ..] => {
                    depth += 1;
                    self.at += 2;
                }
                [b'*', b'/', ..] => {
                    depth -= 1;
                    self.at += 2;
                    if depth == 0 {
                        return;
                    }
                }
                [_, ..] => self.at += 1,
                [] => return self.slip(Slip::Unended(start)),
            }
        }
    }

    /// Moves past `#![enable(…)]`.
    fn skip_attributes(&mut self) {
        self.space();
        while self.rest().starts_with(b"#") {
            self.skip_while(|b| b != b']');
            self.at = (self.at + 1).min(self.text.len());
            self.space();
        }
    }

    fn value(&mut self, depth: usize) -> Node<'t> {
        self.space();
        let at = self.at;
        self.word();
        let word = self.text.get(at..self.at).unwrap_or_default();
        let mut node = Node { at, word, items: Vec::new(), end: self.at };
        let named = word.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_');
        let after = self.at;
        self.space();
        match self.peek() {
            Some(open @ (b'(' | b'[' | b'{')) if named && (word.is_empty() || open == b'(') => {
                node.items = self.bracket(open, depth);
                node.end = self.at;
            }
            _ => self.at = after,
        }
        node
    }

    fn bracket(&mut self, open: u8, depth: usize) -> Vec<Item<'t>> {
        let mut items = Vec::new();
        if depth >= DEEPEST {
            self.at = self.text.len();
            return items;
        }
        self.open.push((self.at, open));
        self.at += 1;
        loop {
            self.space();
            match self.peek() {
                None => {
                    let (start, _) = self.open.last().copied().unwrap_or_default();
                    self.slip(Slip::Open(start));
                    break;
                }
                Some(close @ (b')' | b']' | b'}')) => {
                    self.close(close);
                    break;
                }
                Some(b',' | b':') => self.at += 1,
                Some(_) => {
                    let before = self.at;
                    items.push(self.item(depth));
                    if self.at == before {
                        // Whatever this is, nothing can be made of it.
                        self.at += 1;
                        self.skip_while(|b| !b.is_ascii());
                    }
                }
            }
        }
        self.open.pop();
        items
    }

    fn close(&mut self, close: u8) {
        let (start, open) = self.open.last().copied().unwrap_or_default();
        if matches!((open, close), (b'(', b')') | (b'[', b']') | (b'{', b'}')) {
            self.at += 1;
        } else {
            let at = self.at;
            self.slip(Slip::Crossed(start, at));
        }
    }

    fn item(&mut self, depth: usize) -> Item<'t> {
        let first = self.value(depth + 1);
        let after = self.at;
        self.space();
        if self.peek() == Some(b':') {
            self.at += 1;
            return Item { key: Some(first), value: self.value(depth + 1) };
        }
        self.at = after;
        Item { key: None, value: first }
    }

    /// Moves past a word, a number or a string.
    fn word(&mut self) {
        let start = self.at;
        match self.rest() {
            [b'"', ..] | [b'b', b'"', ..] => {
                self.skip_while(|b| b != b'"');
                self.string(start, b'"');
            }
            [b'\'', ..] => self.string(start, b'\''),
            [b'r', b'"' | b'#', ..] => self.raw_string(start),
            _ => self.skip_while(|b| !b.is_ascii_whitespace() && !br#"()[]{},:"'/"#.contains(&b)),
        }
    }

    fn string(&mut self, start: usize, quote: u8) {
        self.at += 1;
        loop {
            match self.rest() {
                [b'\\', _, ..] => self.at += 2,
                [b, ..] if *b == quote => {
                    self.at += 1;
                    return;
                }
                [_, ..] => self.at += 1,
                [] => return self.slip(Slip::Unended(start)),
            }
        }
    }

    fn raw_string(&mut self, start: usize) {
        self.at += 1;
        let hashes = self.rest().iter().take_while(|&&b| b == b'#').count();
        self.at += hashes;
        if self.peek() != Some(b'"') {
            // A raw name, `r#loop`: an ordinary word after all.
            return self.skip_while(|b| b.is_ascii_alphanumeric() || b == b'_');
        }
        self.at += 1;
        let end = format!("\"{}", "#".repeat(hashes));
        match self.text.get(self.at..).and_then(|rest| rest.find(&end)) {
            Some(n) => self.at += n + end.len(),
            None => self.slip(Slip::Unended(start)),
        }
    }
}

/// The line and column, both from 1 and the latter in characters, of a byte of a text.
pub(super) fn line_and_column(text: &str, at: usize) -> (usize, usize) {
    let at = (0..=at.min(text.len())).rev().find(|&at| text.is_char_boundary(at));
    let before = text.get(..at.unwrap_or_default()).unwrap_or_default();
    let line = before.bytes().filter(|&b| b == b'\n').count() + 1;
    let column = before.chars().rev().take_while(|&c| c != '\n').count() + 1;
    (line, column)
}
