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
        ["engine", "selfplay", first, games, nodes, threads, file] => {
            let n = |w: &str| w.parse().unwrap_or(1);
            let plan = foreply::engine::SelfPlay {
                first: n(first),
                games: n(games),
                nodes: n(nodes),
                threads: n(threads) as usize,
            };
            match std::fs::File::create(file).and_then(|f| foreply::engine::self_play(&plan, f)) {
                Ok(count) => println!("{count} positions"),
                Err(error) => eprintln!("{file}: {error}"),
            }
            ExitCode::SUCCESS
        }
        ["engine", "tune", epochs, threads, out, files @ ..] => {
            let n = |w: &str| w.parse().unwrap_or(1);
            let bytes: Vec<u8> = files
                .iter()
                .flat_map(|f| std::fs::read(f).unwrap_or_default())
                .collect();
            let fitted = foreply::engine::fit(&bytes, n(epochs), n(threads));
            println!(
                "{} positions, held-out loss {:.5} -> {:.5}",
                fitted.positions, fitted.before, fitted.after
            );
            if let Err(error) = std::fs::write(out, fitted.source) {
                eprintln!("{out}: {error}");
            }
            ExitCode::SUCCESS
        }
        ["engine", "calibrate", stride, nodes, threads, files @ ..] => {
            let n = |w: &str| w.parse().unwrap_or(1);
            let bytes: Vec<u8> = files
                .iter()
                .flat_map(|f| std::fs::read(f).unwrap_or_default())
                .collect();
            print!(
                "{}",
                foreply::engine::calibrate(&bytes, n(stride), n(nodes) as u64, n(threads))
            );
            ExitCode::SUCCESS
        }
        _ => ExitCode::from(2),
    }
}
