//! Deeds as they are said in the shell: one word, and what it needs behind it.

use clap::Args;

use super::failure::Failure;
use crate::book::{HeadDeed, Look, LotDeed, PlantDeed, Position, Verdict};

/// Words for what can happen to a plant.
pub(super) const PLANT: &str = "acquired [FROM], numbered, planted [A/3/12], unbloomed, bloomed, \
    look, keep, hold, discard, tag-lost, lost WHY, lifted [TUBERS], checked SOUND, woken, treated \
    HOW, named NAME, note TEXT";
/// Words for what can happen to a head.
pub(super) const HEAD: &str =
    "pollinated, cut, in-water, hung, rotted, lost WHY, threshed SEEDS, note TEXT";
/// Words for what can happen to a packet.
pub(super) const LOT: &str = "sown [SEEDS], up N, pricked-out N, given SEEDS, gone WHY, note TEXT";

/// What may be said beside a deed.
#[derive(Debug, Args)]
pub(super) struct Beside {
    /// Why, of a verdict
    #[arg(long, value_name = "TEXT")]
    why: Option<Box<str>>,
    /// Who judged or looked; else the raiser
    #[arg(long, value_name = "NAME")]
    by: Option<Box<str>>,
    /// Of a look: diameter of the bloom in mm
    #[arg(long, value_name = "MM")]
    bloom: Option<f64>,
    /// Of a look: height of the plant in cm
    #[arg(long, value_name = "CM")]
    height: Option<f64>,
    /// Of a look: the flower group, by its code
    #[arg(long, value_name = "CODE")]
    group: Option<Box<str>>,
    /// Of a look: a colour, the main one first; may be said several times
    #[arg(long = "colour", value_name = "WORD")]
    colours: Vec<Box<str>>,
    /// Of a look: a score, such as form=7; may be said several times
    #[arg(long = "score", value_name = "TRAIT=N", value_parser = score)]
    scores: Vec<(Box<str>, f64)>,
    /// Of a look: a fault; may be said several times
    #[arg(long = "fault", value_name = "WORD")]
    faults: Vec<Box<str>>,
    /// Of a look: the path of a picture, from the book's folder
    #[arg(long, value_name = "PATH")]
    photo: Option<Box<str>>,
    /// Of lifted tubers: where they are stored
    #[arg(long, value_name = "WHERE")]
    store: Option<Box<str>>,
    /// Of seed given away: to whom
    #[arg(long, value_name = "NAME")]
    to: Option<Box<str>>,
}

fn score(text: &str) -> Result<(Box<str>, f64), String> {
    let wrong = || format!("\"{text}\" is no score; write it as form=7");
    let (name, score) = text.split_once('=').ok_or_else(wrong)?;
    let score = score.trim().parse::<f64>().ok().filter(|score| score.is_finite());
    Ok((name.trim().into(), score.ok_or_else(wrong)?))
}

/// A deed, and what was said behind and beside it, each to be used once.
struct Said<'a> {
    deed: &'a str,
    text: Option<Box<str>>,
    beside: &'a Beside,
}

impl<'a> Said<'a> {
    fn new(deed: &'a str, words: &[String], beside: &'a Beside) -> Self {
        let text = words.join(" ");
        let text = text.trim();
        Self { deed, text: (!text.is_empty()).then(|| text.into()), beside }
    }

    fn some_text(&mut self) -> Option<Box<str>> {
        self.text.take()
    }

    fn text(&mut self, what: &str) -> Result<Box<str>, Failure> {
        self.some_text().ok_or_else(|| {
            Failure::Usage(
                format!("\"{}\" needs {what} behind it.", self.deed),
                format!("Write it so: trug note WHO {} …", self.deed),
            )
        })
    }

    fn number<N: std::str::FromStr>(&mut self) -> Result<N, Failure> {
        let text = self.text("a number")?;
        text.parse().map_err(|_not_a_number| not_a_number(&text))
    }

    fn some_number<N: std::str::FromStr>(&mut self) -> Result<Option<N>, Failure> {
        let text = self.some_text();
        text.map(|text| text.parse().map_err(|_not_a_number| not_a_number(&text))).transpose()
    }

    /// The deed, if nothing was said that it has no room for.
    fn done<D>(self, deed: D) -> Result<D, Failure> {
        match self.text {
            None => Ok(deed),
            Some(text) => Err(Failure::Usage(
                format!("\"{}\" has no room for \"{text}\".", self.deed),
                "A remark goes into an entry of its own: trug note WHO note TEXT.".to_owned(),
            )),
        }
    }
}

fn not_a_number(text: &str) -> Failure {
    Failure::Usage(
        format!("\"{text}\" is no number that can stand here."),
        "Write a whole number in digits.".to_owned(),
    )
}

fn unknown(deed: &str, known: &str, of: &str) -> Failure {
    Failure::Usage(format!("\"{deed}\" is no deed of {of}."), format!("These are: {known}."))
}

/// A deed of a plant.
pub(super) fn of_plant(
    deed: &str,
    words: &[String],
    beside: &Beside,
) -> Result<PlantDeed, Failure> {
    let mut said = Said::new(deed, words, beside);
    let deed = match deed {
        "acquired" => PlantDeed::Acquired { from: said.some_text() },
        "numbered" => PlantDeed::Numbered,
        "planted" => PlantDeed::Planted(said.some_text().map(|text| position(&text)).transpose()?),
        "unbloomed" => PlantDeed::SeenUnbloomed,
        "bloomed" => PlantDeed::FirstBloom,
        "look" => PlantDeed::Look(Box::new(look(&mut said))),
        "keep" => verdict(Verdict::Keep, &mut said),
        "hold" => verdict(Verdict::Hold, &mut said),
        "discard" => verdict(Verdict::Discard, &mut said),
        "tag-lost" => PlantDeed::TagLost,
        "lost" => PlantDeed::Lost(said.text("the cause")?),
        "lifted" => PlantDeed::Lifted { tubers: said.some_number()?, store: beside.store.clone() },
        "checked" => PlantDeed::Checked { sound: said.number()? },
        "woken" => PlantDeed::Woken,
        "treated" => PlantDeed::Treated(said.text("the treatment")?),
        "named" => PlantDeed::Named(said.text("the name")?),
        "note" => PlantDeed::Note(said.text("a remark")?),
        other => return Err(unknown(other, PLANT, "a plant")),
    };
    said.done(deed)
}

fn verdict(is: Verdict, said: &mut Said<'_>) -> PlantDeed {
    let why = said.some_text().or_else(|| said.beside.why.clone());
    PlantDeed::Verdict { is, why, who: said.beside.by.clone() }
}

fn look(said: &mut Said<'_>) -> Look {
    let beside = said.beside;
    Look {
        who: beside.by.clone(),
        bloom_mm: beside.bloom,
        height_cm: beside.height,
        group: beside.group.clone(),
        colours: beside.colours.clone(),
        scores: beside.scores.clone(),
        faults: beside.faults.clone(),
        note: said.some_text(),
        photo: beside.photo.clone(),
    }
}

fn position(text: &str) -> Result<Position, Failure> {
    text.parse::<Position>().map_err(|err| {
        Failure::Usage(format!("{err}."), "Write bed, row and place: A/3/12.".to_owned())
    })
}

/// A deed of a head.
pub(super) fn of_head(deed: &str, words: &[String], beside: &Beside) -> Result<HeadDeed, Failure> {
    let mut said = Said::new(deed, words, beside);
    let deed = match deed {
        "pollinated" => HeadDeed::Pollinated,
        "cut" => HeadDeed::Cut,
        "in-water" => HeadDeed::InWater,
        "hung" => HeadDeed::Hung,
        "rotted" => HeadDeed::Rotted,
        "lost" => HeadDeed::Lost(said.text("the cause")?),
        "threshed" => HeadDeed::Threshed { seeds: said.number()? },
        "note" => HeadDeed::Note(said.text("a remark")?),
        other => return Err(unknown(other, HEAD, "a head")),
    };
    said.done(deed)
}

/// A deed of a packet.
pub(super) fn of_lot(deed: &str, words: &[String], beside: &Beside) -> Result<LotDeed, Failure> {
    let mut said = Said::new(deed, words, beside);
    let deed = match deed {
        "sown" => LotDeed::Sown { seeds: said.some_number()? },
        "up" => LotDeed::Up(said.number()?),
        "pricked-out" => LotDeed::PrickedOut(said.number()?),
        "given" => LotDeed::Given { seeds: said.number()?, to: beside.to.clone() },
        "gone" => LotDeed::Gone(said.text("the cause")?),
        "note" => LotDeed::Note(said.text("a remark")?),
        other => return Err(unknown(other, LOT, "a packet")),
    };
    said.done(deed)
}
