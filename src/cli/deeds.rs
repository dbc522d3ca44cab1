//! Deeds as they are said in the shell: one word, what it needs behind it, and options for the
//! rest. Words and options are those of the forms.

use clap::{Arg, ArgAction, ArgMatches, Args, Command, FromArgMatches, error::Error};

use super::failure::Failure;
use crate::book::When;
use crate::views::forms::{self, Field, Filled, Form, Kind, Of};

/// What was said beside a deed: the fields by name.
#[derive(Debug)]
pub(super) struct Beside(Vec<(&'static str, String)>);

/// Every field of any form, once, with the words of the forms that have it.
fn fields() -> Vec<(&'static Field, Vec<&'static str>)> {
    let mut all: Vec<(&'static Field, Vec<&'static str>)> = Vec::new();
    for form in forms::FORMS.into_iter().flatten() {
        for field in form.fields {
            match all.iter_mut().find(|(known, _)| known.name == field.name) {
                Some((_, words)) if words.contains(&form.word) => {}
                Some((_, words)) => words.push(form.word),
                None => all.push((field, vec![form.word])),
            }
        }
    }
    all.sort_by_key(|(field, _)| field.name);
    all
}

/// What stands for the answer in the help.
fn stands_for(field: &Field) -> &'static str {
    match field.kind {
        Kind::Scores => "TRAIT=N",
        Kind::Size(unit) => unit,
        Kind::Count => "N",
        Kind::Place => "PLACE",
        Kind::Packet => "CODE",
        Kind::Plant | Kind::Parent => "WHO",
        Kind::Word(_) | Kind::Words(_) | Kind::Choice(_) => "WORD",
        Kind::Text => "TEXT",
    }
}

impl Args for Beside {
    fn augment_args(command: Command) -> Command {
        fields().into_iter().fold(command, |command, (field, words)| {
            let again = if field.takes_several() { "; may be said several times" } else { "" };
            let help = format!("Of {}: {}{again}", words.join(", "), field.says);
            let action = if field.takes_several() { ArgAction::Append } else { ArgAction::Set };
            command.arg(
                Arg::new(field.name)
                    .long(field.name)
                    .value_name(stands_for(field))
                    .action(action)
                    .allow_negative_numbers(true)
                    .help(help),
            )
        })
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}

impl FromArgMatches for Beside {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        let said = fields().into_iter().filter_map(|(field, _)| {
            let answers = matches.get_many::<String>(field.name)?;
            Some((field.name, answers.map(String::as_str).collect::<Vec<_>>().join(", ")))
        });
        Ok(Self(said.collect()))
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

/// The deeds of one sort of thing, with what stands behind each.
pub(super) fn list(of: Of) -> String {
    let each = forms::of(of).map(|form| match form.fields.iter().find(|field| field.is_behind) {
        Some(field) if field.is_needed => format!("{} {}", form.word, field.name.to_uppercase()),
        Some(field) => format!("{} [{}]", form.word, field.name.to_uppercase()),
        None => form.word.to_owned(),
    });
    each.collect::<Vec<_>>().join(", ")
}

/// The form of a word for the first of several sorts of thing that has one.
pub(super) fn form(of: &[Of], word: &str) -> Result<(usize, &'static Form), Failure> {
    let found = of.iter().enumerate().find_map(|(n, of)| Some((n, forms::named(*of, word)?)));
    found.ok_or_else(|| {
        let names: Vec<&str> = of.iter().map(|of| of.name()).collect();
        let lists: Vec<String> =
            of.iter().map(|of| format!("Deeds of {}: {}.", of.name(), list(*of))).collect();
        Failure::Usage(
            format!("\"{word}\" is no deed of {}.", names.join(" or of ")),
            lists.join("\n"),
        )
    })
}

/// A form filled in with what was said behind its word and beside it.
pub(super) fn filled(
    form: &Form,
    on: When,
    words: &[String],
    beside: &Beside,
) -> Result<Filled, Failure> {
    let mut filled = Filled::new(on);
    for (name, content) in &beside.0 {
        let Some(field) = form.fields.iter().find(|field| field.name == *name) else {
            let has: Vec<String> =
                form.fields.iter().map(|field| format!("--{}", field.name)).collect();
            let hint = if has.is_empty() {
                "It has none but --on, the date.".to_owned()
            } else {
                format!("It has these: {}.", has.join(", "))
            };
            return Err(Failure::Usage(format!("\"{}\" has no --{name}.", form.word), hint));
        };
        filled.set(field.name, content);
    }
    let behind = words.join(" ");
    if behind.trim().is_empty() {
        return Ok(filled);
    }
    match form.fields.iter().find(|field| field.is_behind) {
        Some(field) if filled.get(field.name).is_none() => filled.set(field.name, &behind),
        _ => {
            return Err(Failure::Usage(
                format!("\"{}\" has no room for \"{behind}\".", form.word),
                "A remark goes into an entry of its own: trug note WHO note TEXT.".to_owned(),
            ));
        }
    }
    Ok(filled)
}
