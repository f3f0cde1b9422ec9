//! Timing, and the table it is told in.

use crate::processor;
use std::hint::black_box;
use std::time::{Duration, Instant};

/// One benchmark.
#[derive(Debug)]
pub(crate) struct Case {
    /// Its name, by which it is asked for.
    pub(crate) name: &'static str,
    /// What it should reach.
    pub(crate) target: &'static str,
    /// How often it is measured; one run more goes before and is not counted.
    pub(crate) runs: usize,
}

/// The time one run took.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Lap {
    /// By the clock.
    pub(crate) wall: Duration,
    /// Of the processor, where it is known.
    pub(crate) cpu: Option<Duration>,
}

impl Lap {
    /// Both, one after the other.
    pub(crate) fn and(self, other: Self) -> Self {
        let cpu = self.cpu.zip(other.cpu).map(|(one, other)| one + other);
        Self { wall: self.wall + other.wall, cpu }
    }

    /// What one of so many repetitions took.
    fn of_one(self, times: u32) -> Self {
        Self { wall: self.wall / times, cpu: self.cpu.map(|cpu| cpu / times) }
    }
}

/// Runs from the moment it is made.
#[derive(Debug)]
pub(crate) struct Stopwatch {
    cpu: Option<Duration>,
    wall: Instant,
}

impl Stopwatch {
    pub(crate) fn start() -> Self {
        // The clock last and read first, so that asking for processor time is not in it.
        let cpu = processor::used();
        Self { cpu, wall: Instant::now() }
    }

    pub(crate) fn lap(&self) -> Lap {
        let wall = self.wall.elapsed();
        let cpu = self.cpu.and_then(|before| Some(processor::used()?.saturating_sub(before)));
        Lap { wall, cpu }
    }
}

/// Times `work` on what `prepare` makes for each run; neither making nor letting go is timed. Gives the laps and what
/// the last run came to.
pub(crate) fn timed<P, R>(case: &Case, mut prepare: impl FnMut() -> P, mut work: impl FnMut(P) -> R) -> (Vec<Lap>, R) {
    let mut last = work(prepare());
    let mut laps = Vec::with_capacity(case.runs);
    for _ in 0..case.runs {
        // Before the next: it may hold what the next run needs, such as the book.
        drop(last);
        let prepared = prepare();
        let watch = Stopwatch::start();
        let done = black_box(work(prepared));
        laps.push(watch.lap());
        last = done;
    }
    (laps, last)
}

/// Times something too short for one run: each run does it `times` times over.
pub(crate) fn repeated<R>(case: &Case, times: u32, mut work: impl FnMut() -> R) -> Vec<Lap> {
    let many = |()| {
        for _ in 0..times {
            drop(black_box(work()));
        }
    };
    let (laps, ()) = timed(case, || (), many);
    laps.into_iter().map(|lap| lap.of_one(times)).collect()
}

/// The one in the middle; of an even number the lower of the two.
pub(crate) fn median<T: Ord + Copy>(values: impl IntoIterator<Item = T>) -> Option<T> {
    let mut sorted: Vec<T> = values.into_iter().collect();
    sorted.sort_unstable();
    sorted.get(sorted.len().saturating_sub(1) / 2).copied()
}

/// The middle of the wall times.
pub(crate) fn median_wall(laps: &[Lap]) -> Duration {
    median(laps.iter().map(|lap| lap.wall)).unwrap_or_default()
}

/// Milliseconds as they are shown.
pub(crate) fn milliseconds(time: Duration) -> String {
    let value = time.as_secs_f64() * 1e3;
    if value < 10.0 { format!("{value:.3}") } else { format!("{value:.1}") }
}

/// The table, and which of its lines are wanted.
#[derive(Debug)]
pub(crate) struct Report {
    wanted: Vec<String>,
}

impl Report {
    /// With no name everything is wanted.
    pub(crate) fn new(wanted: Vec<String>) -> Self {
        Self { wanted }
    }

    pub(crate) fn wants(&self, case: &Case) -> bool {
        self.wanted.is_empty() || self.wanted.iter().any(|part| case.name.contains(part.as_str()))
    }

    pub(crate) fn wants_any(&self, cases: &[&Case]) -> bool {
        cases.iter().any(|case| self.wants(case))
    }

    /// A line of times, in milliseconds, where it is wanted.
    pub(crate) fn times(&self, case: &Case, laps: &[Lap], note: &str) {
        if !self.wants(case) {
            return;
        }
        let walls = || laps.iter().map(|lap| lap.wall);
        let cpu = laps.iter().map(|lap| lap.cpu).collect::<Option<Vec<_>>>().and_then(median);
        let shown = |time: Option<Duration>| time.map_or_else(|| "-".to_owned(), milliseconds);
        let [median, least, most, cpu] = [median(walls()), walls().min(), walls().max(), cpu].map(shown);
        line([case.name, &laps.len().to_string(), &median, &least, &most, &cpu], case.target, note);
    }

    /// A line of sizes in KiB, shown in MiB, where it is wanted.
    pub(crate) fn sizes(&self, case: &Case, kib: &[u64], note: &str) {
        if !self.wants(case) {
            return;
        }
        let shown = |kib: Option<u64>| kib.map_or_else(|| "-".to_owned(), |kib| format!("{:.1}", kib as f64 / 1024.0));
        let sizes = || kib.iter().copied();
        let [median, least, most] = [median(sizes()), sizes().min(), sizes().max()].map(shown);
        line([case.name, &kib.len().to_string(), &median, &least, &most, "-"], case.target, note);
    }
}

/// The headings; times are in milliseconds, sizes in MiB.
pub(crate) fn head() {
    line(["benchmark", "runs", "median", "min", "max", "CPU median"], "target", "note");
}

fn line([name, runs, median, least, most, cpu]: [&str; 6], target: &str, note: &str) {
    println!("{name:<26} {runs:>4} {median:>10} {least:>10} {most:>10} {cpu:>10}  {target:<30} {note}");
}
