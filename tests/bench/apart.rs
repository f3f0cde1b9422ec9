//! What is measured in a process of its own, because a second time in the same process it is not what it was the first:
//! starting up, and memory. The process is this same program, asked with [`FLAG`].

use crate::measures::Lap;
use crate::window::Window;
use crate::{papers, processor, studio};
use enamelwright::actions;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// The first argument of such a process; what it shall do and the path of the book follow.
pub(crate) const FLAG: &str = "--apart";

/// Opens the book and reads all that the faces show.
pub(crate) const SNAPSHOT: &str = "snapshot";
/// Opens the window on the book, up to the picture of its first page.
pub(crate) const FRAME: &str = "frame";
/// Lays out and writes ten thousand labels.
pub(crate) const LABELS: &str = "labels";

/// What such a process said.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Said {
    /// From its start until it was done; its end is not in it.
    pub(crate) lap: Lap,
    /// Resident memory when it was done, KiB.
    pub(crate) resident_kib: u64,
    /// The most there ever was, KiB.
    pub(crate) most_kib: u64,
}

/// Starts a process and waits for what it says.
pub(crate) fn ask(what: &str, book: &Path) -> Said {
    let program = std::env::current_exe().expect("the path of this program");
    let begun = Instant::now();
    let mut process = Command::new(program)
        .args([FLAG, what])
        .arg(book)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the process starts");
    let mut answer = String::new();
    let _ = BufReader::new(process.stdout.take().expect("its output")).read_line(&mut answer).expect("its answer");
    let wall = begun.elapsed();
    let status = process.wait().expect("the process ends");
    let numbers: Vec<u64> = answer.split_whitespace().filter_map(|number| number.parse().ok()).collect();
    let [cpu, resident_kib, most_kib] = numbers[..] else {
        panic!("the process that was asked for {what} ended with {status} and said {answer:?}")
    };
    Said { lap: Lap { wall, cpu: (cpu > 0).then(|| Duration::from_micros(cpu)) }, resident_kib, most_kib }
}

/// Does what was asked, and says what it took: microseconds of the processor, memory in KiB, 0 where it is not known.
pub(crate) fn answer(arguments: &[String]) {
    let [what, book] = arguments else { panic!("what to do, and the path of a book") };
    let book = Path::new(book);
    match what.as_str() {
        SNAPSHOT => {
            let book = studio::open(book);
            let snapshot = actions::snapshot(&book).expect("a snapshot");
            say();
            drop(snapshot);
        }
        FRAME => {
            let mut window = Window::open(book);
            let _ = window.turn(&[]);
            say();
            drop(window);
        }
        LABELS => {
            let bytes = papers::write(papers::MANY_LABELS);
            say();
            drop(bytes);
        }
        other => panic!("nothing is called {other:?}"),
    }
}

fn say() {
    let cpu = processor::used().map_or(0, |cpu| cpu.as_micros());
    let (resident, most) = (processor::resident_kib(), processor::most_resident_kib());
    println!("{cpu} {} {}", resident.unwrap_or(0), most.unwrap_or(0));
    std::io::stdout().flush().expect("standard output");
}
