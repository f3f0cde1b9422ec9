//! Starts the window, or carries out a command-line task.

fn main() -> std::process::ExitCode {
    std::process::ExitCode::SUCCESS
}
