//! The sound at the end of a firing, through whatever player the platform has; silence where there is none. Nothing
//! waits for it.

use std::f32::consts::TAU;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// Samples a second.
const RATE: u32 = 22_050;
/// Three beeps: how long one is, and how long the pause after it, in samples.
const BEEP: (u16, u16) = (4_400, 3_300);
/// How high they are, Hz.
const PITCH: f32 = 880.0;

/// Plays three beeps, on a thread of its own.
pub(super) fn ring() {
    let spawned = std::thread::Builder::new().name("sound".to_owned()).spawn(|| {
        if let Some((player, arguments)) = player() {
            let file = std::env::temp_dir().join(format!("enamelwright-{}.wav", std::process::id()));
            if std::fs::write(&file, wave()).is_ok() {
                play(&player, &arguments, &file);
                let _ = std::fs::remove_file(&file);
            }
        }
    });
    // No thread, no sound: the page says by colour and shape that the time is up.
    drop(spawned);
}

/// Plays a file and waits for its end. A player that cannot play is silent.
fn play(player: &Path, arguments: &[&str], file: &Path) {
    let mut command = Command::new(player);
    if player.file_stem().is_some_and(|name| name == "powershell") {
        let path = file.display().to_string().replace('\'', "''");
        let _ = command.args(arguments).arg(format!("(New-Object System.Media.SoundPlayer '{path}').PlaySync()"));
    } else {
        let _ = command.args(arguments).arg(file);
    }
    let _ = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).status();
}

/// The first player that is there, with its arguments before the file.
fn player() -> Option<(PathBuf, Vec<&'static str>)> {
    const PLAYERS: [(&str, &[&str]); 5] = [
        ("pw-play", &[]),
        ("paplay", &[]),
        ("aplay", &["-q"]),
        ("afplay", &[]),
        ("powershell.exe", &["-NoProfile", "-NonInteractive", "-Command"]),
    ];
    let path = std::env::var_os("PATH")?;
    let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    PLAYERS.into_iter().find_map(|(name, arguments)| {
        let there = folders.iter().map(|folder| folder.join(name)).find(|place| place.is_file())?;
        Some((there, arguments.to_vec()))
    })
}

/// Three beeps as a WAV file: one channel of 16 bits.
fn wave() -> Vec<u8> {
    let (beep, pause) = BEEP;
    let one = (0..beep).map(|at| {
        // Swells and dies away, so that it does not click.
        let edge = f32::from(at.min(beep - at).min(400)) / 400.0;
        let turn = f32::from(at) / 22_050.0 * PITCH * TAU;
        level(turn.sin() * edge * 0.6)
    });
    let one: Vec<i16> = one.chain((0..pause).map(|_| 0)).collect();
    let sound: Vec<u8> = [&one, &one, &one].into_iter().flatten().flat_map(|sample| sample.to_le_bytes()).collect();
    let length = u32::try_from(sound.len()).unwrap_or(0);
    let mut file = Vec::with_capacity(sound.len() + 44);
    file.extend(b"RIFF");
    file.extend((length + 36).to_le_bytes());
    file.extend(b"WAVEfmt ");
    file.extend(16_u32.to_le_bytes());
    file.extend(1_u16.to_le_bytes());
    file.extend(1_u16.to_le_bytes());
    file.extend(RATE.to_le_bytes());
    file.extend((RATE * 2).to_le_bytes());
    file.extend(2_u16.to_le_bytes());
    file.extend(16_u16.to_le_bytes());
    file.extend(b"data");
    file.extend(length.to_le_bytes());
    file.extend(sound);
    file
}

#[allow(clippy::cast_possible_truncation)] // -1 to 1 times the largest sample
fn level(share: f32) -> i16 {
    (share.clamp(-1.0, 1.0) * f32::from(i16::MAX)) as i16
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The header as “Multimedia Programming Interface and Data Specifications 1.0” has it (from memory): sizes of the
    /// whole less 8, of the format, of the samples.
    #[test]
    fn the_file_is_as_long_as_its_header_says() {
        let file = wave();
        let size = |at: usize| u32::from_le_bytes(file[at..at + 4].try_into().unwrap()) as usize;
        assert_eq!((&file[..4], &file[8..16], &file[36..40]), (&b"RIFF"[..], &b"WAVEfmt "[..], &b"data"[..]));
        assert_eq!((size(4), size(16), size(40)), (file.len() - 8, 16, file.len() - 44));
        // About a second.
        assert!((40_000..70_000).contains(&file.len()));
    }
}
