use std::env;
use std::process::ExitCode;

fn main() -> ExitCode {
    let words: Vec<String> = env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["engine"] => match foreply::engine::run_stdio() {
            Ok(()) => ExitCode::SUCCESS,
            Err(error) => {
                eprintln!("cannot read standard input: {error}");
                ExitCode::FAILURE
            }
        },
        ["engine", "bench", rest @ ..] => {
            let depth = rest
                .first()
                .and_then(|d| d.parse().ok())
                .unwrap_or(foreply::engine::BENCH_DEPTH);
            let outcome = foreply::engine::bench(depth);
            let seconds = outcome.elapsed.as_secs_f64();
            println!(
                "nodes {} time {seconds:.2} s nodes/s {:.0}",
                outcome.nodes,
                outcome.nodes as f64 / seconds
            );
            ExitCode::SUCCESS
        }
        _ => ExitCode::from(2),
    }
}
