//! The pieces of RON: values, fields, and a sheet with one field a line.

use std::fmt::{Display, Write};

use chrono::NaiveDate;

use super::super::disk::FORMAT;
use crate::book::{Parent, Pollen, Season, When};

/// Something that is written on one line.
pub(super) trait Ron {
    /// Writes it.
    fn ron(&self, out: &mut String);
}

/// Writes something as it shows itself.
pub(super) fn show(out: &mut String, value: impl Display) {
    // Writing to a string cannot fail.
    write!(out, "{value}").ok();
}

/// A word of the format, such as `Hand`.
pub(super) struct Word(pub(super) &'static str);

impl Ron for Word {
    fn ron(&self, out: &mut String) {
        out.push_str(self.0);
    }
}

macro_rules! as_it_shows {
    ($($kind:ty),*) => {$(
        impl Ron for $kind {
            fn ron(&self, out: &mut String) {
                show(out, self);
            }
        }
    )*};
}

as_it_shows!(bool, u8, u16, u32, i16, f64, Season);

impl Ron for str {
    fn ron(&self, out: &mut String) {
        out.push('"');
        for c in self.chars() {
            match c {
                '"' => out.push_str("\\\""),
                '\\' => out.push_str("\\\\"),
                '\n' => out.push_str("\\n"),
                '\t' => out.push_str("\\t"),
                '\u{2028}'..='\u{202E}' | '\u{2066}'..='\u{2069}' => show(out, c.escape_unicode()),
                c if c.is_control() => show(out, c.escape_unicode()),
                c => out.push(c),
            }
        }
        out.push('"');
    }
}

impl Ron for Box<str> {
    fn ron(&self, out: &mut String) {
        (**self).ron(out);
    }
}

impl<T: Ron> Ron for [T] {
    fn ron(&self, out: &mut String) {
        list(out, '[', self.iter(), ']');
    }
}

impl<A: Ron, B: Ron> Ron for (A, B) {
    fn ron(&self, out: &mut String) {
        out.push('(');
        self.0.ron(out);
        out.push_str(", ");
        self.1.ron(out);
        out.push(')');
    }
}

impl<T: Ron + ?Sized> Ron for &T {
    fn ron(&self, out: &mut String) {
        (**self).ron(out);
    }
}

impl Ron for When {
    fn ron(&self, out: &mut String) {
        show(out, format_args!("\"{self}\""));
    }
}

impl Ron for NaiveDate {
    fn ron(&self, out: &mut String) {
        When::day(*self).ron(out);
    }
}

impl Ron for Parent {
    fn ron(&self, out: &mut String) {
        match self {
            Self::Known(key) => call(out, "Known", key),
            Self::OneOf(candidates) => {
                out.push_str("OneOf(");
                let pairs = candidates.iter().map(|c| (&*c.key, c.weight));
                list(out, '[', pairs, ']');
                out.push(')');
            }
            Self::Unknown => out.push_str("Unknown"),
        }
    }
}

impl Ron for Pollen {
    fn ron(&self, out: &mut String) {
        match self {
            Self::From(parent) => parent.ron(out),
            Self::Selfed => out.push_str("Selfed"),
        }
    }
}

/// Writes `{"key": value}`.
pub(super) fn map(out: &mut String, entries: &[(Box<str>, f64)]) {
    out.push('{');
    for (n, (key, value)) in entries.iter().enumerate() {
        if n > 0 {
            out.push_str(", ");
        }
        key.ron(out);
        out.push_str(": ");
        value.ron(out);
    }
    out.push('}');
}

fn list<T: Ron>(out: &mut String, open: char, items: impl Iterator<Item = T>, close: char) {
    out.push(open);
    for (n, item) in items.enumerate() {
        if n > 0 {
            out.push_str(", ");
        }
        item.ron(out);
    }
    out.push(close);
}

/// Writes `Name(value)`.
pub(super) fn call(out: &mut String, name: &str, value: &(impl Ron + ?Sized)) {
    out.push_str(name);
    out.push('(');
    value.ron(out);
    out.push(')');
}

/// The fields of one bracket, on one line.
pub(super) struct Fields<'a> {
    out: &'a mut String,
    any: bool,
}

impl<'a> Fields<'a> {
    /// Opens the bracket of `name`, which may be empty.
    pub(super) fn open(out: &'a mut String, name: &str) -> Self {
        out.push_str(name);
        out.push('(');
        Self { out, any: false }
    }

    /// Writes a field.
    pub(super) fn put(&mut self, name: &str, value: &(impl Ron + ?Sized)) -> &mut Self {
        value.ron(self.name(name));
        self
    }

    /// Writes a field that may hold nothing.
    pub(super) fn some(&mut self, name: &str, value: Option<&(impl Ron + ?Sized)>) -> &mut Self {
        if let Some(value) = value {
            self.put(name, value);
        }
        self
    }

    /// Writes a list, unless it is empty.
    pub(super) fn list(&mut self, name: &str, items: &[impl Ron]) -> &mut Self {
        if !items.is_empty() {
            self.put(name, items);
        }
        self
    }

    /// Writes the name of a field, and leaves the value to the caller.
    pub(super) fn name(&mut self, name: &str) -> &mut String {
        if self.any {
            self.out.push_str(", ");
        }
        self.any = true;
        self.out.push_str(name);
        self.out.push_str(": ");
        self.out
    }

    /// Closes the bracket.
    pub(super) fn close(self) {
        self.out.push(')');
    }
}

/// A file, one field of its record a line.
pub(super) struct Sheet {
    out: String,
}

impl Sheet {
    /// Begins a file.
    pub(super) fn new() -> Self {
        let mut sheet = Self { out: "(\n".to_owned() };
        sheet.put("format", &FORMAT);
        sheet
    }

    /// Writes a field.
    pub(super) fn put(&mut self, name: &str, value: &(impl Ron + ?Sized)) -> &mut Self {
        self.with(name, |out| value.ron(out))
    }

    /// Writes a field that may hold nothing.
    pub(super) fn some(&mut self, name: &str, value: Option<&(impl Ron + ?Sized)>) -> &mut Self {
        if let Some(value) = value {
            self.put(name, value);
        }
        self
    }

    /// Writes a field by a function.
    pub(super) fn with(&mut self, name: &str, value: impl FnOnce(&mut String)) -> &mut Self {
        self.out.push_str("    ");
        self.out.push_str(name);
        self.out.push_str(": ");
        value(&mut self.out);
        self.out.push_str(",\n");
        self
    }

    /// Writes a list with one item a line, unless it is empty.
    pub(super) fn lines<T>(
        &mut self,
        name: &str,
        items: impl ExactSizeIterator<Item = T>,
        item: impl FnMut(&mut String, T),
    ) -> &mut Self {
        if items.len() > 0 {
            self.with(name, |out| lines(out, 1, items, item));
        }
        self
    }

    /// The whole file.
    pub(super) fn close(mut self) -> String {
        self.out.push_str(")\n");
        self.out
    }
}

/// Writes a list with one item a line, in a line that is indented `depth` times.
pub(super) fn lines<T>(
    out: &mut String,
    depth: usize,
    items: impl Iterator<Item = T>,
    mut item: impl FnMut(&mut String, T),
) {
    let indent = |out: &mut String, depth| (0..depth).for_each(|_| out.push_str("    "));
    out.push_str("[\n");
    for value in items {
        indent(out, depth + 1);
        item(out, value);
        out.push_str(",\n");
    }
    indent(out, depth);
    out.push(']');
}
