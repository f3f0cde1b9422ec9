//! What the system says about this process: processor time and memory. Linux only; elsewhere nothing is known and the
//! table shows wall time alone.

use std::time::Duration;

/// Processor time of all threads that live.
///
/// The scheduler counts nanoseconds, but only brings them up to date when a thread gives way; where it does not count,
/// the process's own clock of hundredths of a second must do.
pub(crate) fn used() -> Option<Duration> {
    std::thread::yield_now();
    scheduled().or_else(ticks)
}

fn scheduled() -> Option<Duration> {
    let mut sum = 0_u64;
    for task in std::fs::read_dir("/proc/self/task").ok()? {
        // A thread may end between the listing and the reading.
        let Ok(text) = std::fs::read_to_string(task.ok()?.path().join("schedstat")) else { continue };
        sum += text.split_whitespace().next()?.parse::<u64>().ok()?;
    }
    (sum > 0).then(|| Duration::from_nanos(sum))
}

fn ticks() -> Option<Duration> {
    let text = std::fs::read_to_string("/proc/self/stat").ok()?;
    // The second field is the name in brackets, which may hold spaces; after it come fields 3 and on, and 14 and 15 are
    // the time in user and system mode (proc(5)), in hundredths of a second on every common machine.
    let (_, fields) = text.rsplit_once(')')?;
    let mut times = fields.split_whitespace().skip(11);
    let hundredths = times.next()?.parse::<u64>().ok()? + times.next()?.parse::<u64>().ok()?;
    Some(Duration::from_millis(hundredths * 10))
}

/// Resident memory in KiB.
pub(crate) fn resident_kib() -> Option<u64> {
    status("VmRSS:")
}

/// The most memory that was ever resident, in KiB.
pub(crate) fn most_resident_kib() -> Option<u64> {
    status("VmHWM:")
}

fn status(field: &str) -> Option<u64> {
    let text = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = text.lines().find_map(|line| line.strip_prefix(field))?;
    line.split_whitespace().next()?.parse().ok()
}
