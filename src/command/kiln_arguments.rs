//! What can be asked about kilns, their loads and days on the command line.

use super::arguments::{Form, date, decimal};
use crate::measure::Decimal;
use chrono::{NaiveDate, NaiveDateTime, NaiveTime};
use clap::{Args, Subcommand, ValueEnum};

/// `kiln …`.
#[derive(Debug, Subcommand)]
pub enum KilnTask {
    /// Kilns and torches: power, the hottest each can hold, hot hours of elements and thermocouple
    #[command(after_help = "Example: enamelwright kiln list")]
    List(KilnList),
    /// Write a kiln down with its three measurements, or a torch
    #[command(
        after_help = "Measure once: the rated power, the minutes from cold to a working temperature at full power, \
                            and the share of time the elements are on when it holds that temperature.\n\
                            Example: enamelwright kiln add \"Small kiln\" --kw 1.6 --warm-up 38 --working 1450F --duty \
                            42% --max 1050C --shelf 400\n\
                            Example: enamelwright kiln add Torch --torch"
    )]
    Add(Box<KilnAdd>),
    /// Change what is given of a kiln or torch; the rest stays
    #[command(after_help = "What days that are written down took and cost is told by the figures as they are now.\n\
                            Example: enamelwright kiln change \"Small kiln\" --duty 47%\n\
                            Example: enamelwright kiln change \"Small kiln\" --renewed elements --since 2026-10-01")]
    Change(Box<KilnChange>),
    /// Set a kiln or torch aside: no load goes in it, its log stays
    #[command(after_help = "Example: enamelwright kiln set-aside \"Small kiln\"")]
    SetAside(KilnAside),
    /// Take a kiln or torch up again that was set aside
    #[command(after_help = "Example: enamelwright kiln take-up \"Small kiln\"")]
    TakeUp(KilnAside),
    /// Write a load down that was fired, or list the loads of a day or range
    #[command(
        after_help = "With --batch a load is written down: its pieces go on, stay (--again) or are lost (--lost). \
                            Without it loads are listed. Times are 10:02, 10:02:30 or 2026-10-14T10:02.\n\
                            A hot kiln burns and sets fire; the maker's safety data sheet and local rules come first.\n\
                            Example: enamelwright kiln log --kiln \"Small kiln\" --closed 10:02 --opened 10:05:15 \
                            --set 1337F --read 1342F --batch 4:3:1-5 --lost 4/3:cracked\n\
                            Example: enamelwright kiln log --from 2026-10-01 --to 2026-10-31"
    )]
    Log(Box<KilnLog>),
    /// Write a kiln's day down: on, at heat, off, meter; without times, what it took and cost
    #[command(
        after_help = "Example: enamelwright kiln day \"Small kiln\" --on 9:05 --hot 9:50 --off 15:10 --meter 6.4"
    )]
    Day(Box<KilnDayTask>),
    /// Fit a kiln's figures to its meter readings; used only when accepted
    #[command(after_help = "At least four days with a meter reading.\n\
                            Example: enamelwright kiln fit \"Small kiln\" --accept")]
    Fit(KilnFit),
    /// The order of loads that finishes soonest and heats least, for all pieces that wait or have firings ahead
    #[command(after_help = "Example: enamelwright kiln plan --kiln \"Small kiln\" --from 9:00")]
    Plan(KilnPlan),
}

/// `kiln list`.
#[derive(Debug, Args)]
pub struct KilnList {
    /// Kilns that were set aside, too
    #[arg(long)]
    pub all: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `kiln add`.
#[derive(Debug, Args)]
pub struct KilnAdd {
    /// What you call it
    pub name: String,
    /// A torch at the bench: no kWh, no wear, no shelf
    #[arg(long, conflicts_with_all = ["kw", "warm_up", "working", "duty", "max", "shelf"])]
    pub torch: bool,
    /// Rated power, kW
    #[arg(long, value_name = "KW", value_parser = decimal, required_unless_present = "torch")]
    pub kw: Option<Decimal>,
    /// Minutes from cold to the working temperature at full power
    #[arg(long, value_name = "MINUTES", required_unless_present = "torch")]
    pub warm_up: Option<String>,
    /// The working temperature these hold for
    #[arg(long, value_name = "TEMPERATURE", required_unless_present = "torch")]
    pub working: Option<String>,
    /// Share of time the elements are on when it holds the working temperature
    #[arg(long, value_name = "SHARE", required_unless_present = "torch")]
    pub duty: Option<String>,
    /// The maker's rated maximum
    #[arg(long, value_name = "TEMPERATURE", required_unless_present = "torch")]
    pub max: Option<String>,
    /// Usable shelf, cm²
    #[arg(long, value_name = "CM2", value_parser = decimal, required_unless_present = "torch")]
    pub shelf: Option<Decimal>,
    /// Shelf, planche and trivets that go in with a load, g of steel
    #[arg(long, value_name = "G", value_parser = decimal, default_value = "0")]
    pub furniture: Decimal,
    /// Heat lost at each opening of the door, kWh
    #[arg(long, value_name = "KWH", value_parser = decimal, default_value = "0")]
    pub door: Decimal,
    /// The room
    #[arg(long, value_name = "TEMPERATURE", default_value = "20C")]
    pub room: String,
    /// The day its elements and thermocouple were renewed; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub since: Option<NaiveDate>,
    /// Anything else
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub note: String,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `kiln change`.
#[derive(Debug, Args)]
pub struct KilnChange {
    /// The kiln or torch, by name
    pub kiln: String,
    /// What you call it from now on
    #[arg(long, value_name = "NAME")]
    pub name: Option<String>,
    /// Its figures
    #[command(flatten)]
    pub figures: KilnFigures,
    /// The part that was renewed: its hot hours count from then
    #[arg(long, value_name = "PART")]
    pub renewed: Option<KilnPart>,
    /// The day it was renewed; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date, requires = "renewed")]
    pub since: Option<NaiveDate>,
    /// Anything else
    #[arg(long, value_name = "TEXT")]
    pub note: Option<String>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// Figures of an electric kiln, those that are to be others.
#[derive(Debug, Args)]
pub struct KilnFigures {
    /// Rated power, kW
    #[arg(long, value_name = "KW", value_parser = decimal)]
    pub kw: Option<Decimal>,
    /// Minutes from cold to the working temperature at full power
    #[arg(long, value_name = "MINUTES")]
    pub warm_up: Option<String>,
    /// The working temperature these hold for
    #[arg(long, value_name = "TEMPERATURE")]
    pub working: Option<String>,
    /// Share of time the elements are on when it holds the working temperature
    #[arg(long, value_name = "SHARE")]
    pub duty: Option<String>,
    /// The maker's rated maximum
    #[arg(long, value_name = "TEMPERATURE")]
    pub max: Option<String>,
    /// Usable shelf, cm²
    #[arg(long, value_name = "CM2", value_parser = decimal)]
    pub shelf: Option<Decimal>,
    /// Shelf, planche and trivets that go in with a load, g of steel
    #[arg(long, value_name = "G", value_parser = decimal)]
    pub furniture: Option<Decimal>,
    /// Heat lost at each opening of the door, kWh
    #[arg(long, value_name = "KWH", value_parser = decimal)]
    pub door: Option<Decimal>,
    /// The room
    #[arg(long, value_name = "TEMPERATURE")]
    pub room: Option<String>,
}

impl KilnFigures {
    /// None of them was given.
    pub fn changes_none(&self) -> bool {
        let texts = [&self.warm_up, &self.working, &self.duty, &self.max, &self.room];
        let numbers = [self.kw, self.shelf, self.furniture, self.door];
        texts.iter().all(|text| text.is_none()) && numbers.iter().all(Option::is_none)
    }
}

/// A part of a kiln that is renewed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum KilnPart {
    /// The heating elements
    Elements,
    /// The thermocouple
    Thermocouple,
}

/// `kiln set-aside`, `kiln take-up`.
#[derive(Debug, Args)]
pub struct KilnAside {
    /// The kiln or torch, by name
    pub kiln: String,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `kiln log`.
#[derive(Debug, Args)]
pub struct KilnLog {
    /// The kiln or torch, by name; needed for a load where there are several
    #[arg(long, value_name = "NAME")]
    pub kiln: Option<String>,
    /// Pieces of a batch that were in it: its number, the firing step from 1, and the pieces, or without them all that
    /// wait for it; may be given several times
    #[arg(long, value_name = "NUMBER:STEP[:PIECES]", requires_all = ["closed", "opened", "set"])]
    pub batch: Vec<String>,
    /// The door closed on it
    #[arg(long, value_name = "TIME", value_parser = moment, requires = "batch")]
    pub closed: Option<Moment>,
    /// The door opened
    #[arg(long, value_name = "TIME", value_parser = moment, requires = "batch")]
    pub opened: Option<Moment>,
    /// Temperature set
    #[arg(long, value_name = "TEMPERATURE", requires = "batch")]
    pub set: Option<String>,
    /// Temperature read
    #[arg(long, value_name = "TEMPERATURE", requires = "batch")]
    pub read: Option<String>,
    /// Minutes in the heat that were meant; without it, those it had
    #[arg(long, value_name = "MINUTES", requires = "batch")]
    pub asked: Option<String>,
    /// Hands-on minutes; without it, as planned
    #[arg(long, value_name = "MINUTES", requires = "batch")]
    pub minutes: Option<String>,
    /// Pieces lost in it, and of what; may be given several times
    #[arg(long, value_name = "NUMBER/PIECES:CAUSE", requires = "batch")]
    pub lost: Vec<String>,
    /// The losses are far outside the usual
    #[arg(long, requires = "lost")]
    pub abnormal: bool,
    /// Pieces that go in again; may be given several times
    #[arg(long, value_name = "NUMBER/PIECES", requires = "batch")]
    pub again: Vec<String>,
    /// Why it was fired past a stop; kept in the log
    #[arg(long = "override", value_name = "WORDS", default_value = "", hide_default_value = true, requires = "batch")]
    pub override_words: String,
    /// Anything else
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true, requires = "batch")]
    pub note: String,
    /// The day of times that name none; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// List loads from this day on; without it, of today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date, conflicts_with = "batch")]
    pub from: Option<NaiveDate>,
    /// List loads up to this day
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date, conflicts_with = "batch")]
    pub to: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `kiln day`.
#[derive(Debug, Args)]
pub struct KilnDayTask {
    /// The kiln, by name; may be left out where there is one
    pub kiln: Option<String>,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// Switched on
    #[arg(long, value_name = "TIME", value_parser = moment)]
    pub on: Option<Moment>,
    /// At heat
    #[arg(long, value_name = "TIME", value_parser = moment)]
    pub hot: Option<Moment>,
    /// Switched off
    #[arg(long, value_name = "TIME", value_parser = moment)]
    pub off: Option<Moment>,
    /// What it held between loads; without it, the kiln's working temperature
    #[arg(long, value_name = "TEMPERATURE")]
    pub hold: Option<String>,
    /// The meter's reading for the whole day, kWh
    #[arg(long, value_name = "KWH", value_parser = decimal)]
    pub meter: Option<Decimal>,
    /// Anything else
    #[arg(long, value_name = "TEXT")]
    pub note: Option<String>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `kiln fit`.
#[derive(Debug, Args)]
pub struct KilnFit {
    /// The kiln, by name
    pub kiln: String,
    /// Use the fitted figures from now on
    #[arg(long, conflicts_with = "measurements")]
    pub accept: bool,
    /// Go back to the three measurements
    #[arg(long)]
    pub measurements: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `kiln plan`.
#[derive(Debug, Args)]
pub struct KilnPlan {
    /// The kiln, by name; may be left out where there is one
    #[arg(long, value_name = "NAME")]
    pub kiln: Option<String>,
    /// The kiln may be on from this time; without it, now
    #[arg(long, value_name = "TIME", value_parser = moment)]
    pub from: Option<Moment>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// A time of day, with or without its day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moment {
    /// Of the day that is spoken of.
    Time(NaiveTime),
    /// Of a day of its own.
    Whole(NaiveDateTime),
}

impl Moment {
    /// The moment on that day, or on its own.
    pub fn on(self, day: NaiveDate) -> NaiveDateTime {
        match self {
            Self::Time(time) => day.and_time(time),
            Self::Whole(whole) => whole,
        }
    }
}

/// A time: `10:02`, `10:02:30`, `2026-10-14T10:02`.
pub fn moment(text: &str) -> Result<Moment, String> {
    let refused = || format!("a time is written 10:02, 10:02:30 or 2026-10-14T10:02; {text:?} is not one");
    let (day, clock) = match text.split_once(['T', ' ']) {
        Some((day, clock)) => (Some(date(day)?), clock),
        None => (None, text),
    };
    let digits = clock.bytes().all(|byte| byte.is_ascii_digit() || byte == b':');
    let time = ["%H:%M", "%H:%M:%S"].iter().find_map(|form| NaiveTime::parse_from_str(clock, form).ok());
    // A leap second is no time of a bench.
    match time.filter(|time| digits && chrono::Timelike::nanosecond(time) == 0) {
        Some(time) => Ok(day.map_or(Moment::Time(time), |day| Moment::Whole(day.and_time(time)))),
        None => Err(refused()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_may_name_its_day() {
        let day = NaiveDate::from_ymd_opt(2026, 10, 14).unwrap();
        let at = |text: &str| moment(text).unwrap().on(day).to_string();
        assert_eq!(at("9:05"), "2026-10-14 09:05:00");
        assert_eq!(at("10:02:30"), "2026-10-14 10:02:30");
        assert_eq!(at("2026-10-13T23:59"), "2026-10-13 23:59:00");
        for wrong in ["", "10", "24:00", "10:60", "10:02:60", "10.02", "-1:00", "10:02pm", "2026-10-1T10:02"] {
            assert!(moment(wrong).is_err(), "{wrong}");
        }
    }
}
