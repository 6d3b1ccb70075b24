//! `foreply completions` and `foreply man`: made from the same table as `--help`.

use crate::app::{Asked, Output};
use crate::cli::Failure;
use crate::cli::args::{Args, Completions, Global, Man};
use crate::cli::shell::error::print;

/// Completions of one shell, on standard output.
pub(crate) fn completions(args: &Completions) -> Result<(), Failure> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Args::described(), "foreply", &mut script);
    print(&String::from_utf8_lossy(&script))
}

/// A page for the program and one for each command, `foreply-COMMAND.1`.
pub(crate) fn man(global: &Global, args: &Man) -> Result<(), Failure> {
    let home = global.home()?;
    let asked = Asked {
        home: &home,
        inputs: &[],
        force: global.force,
    };
    std::fs::create_dir_all(&args.folder)
        .map_err(|e| Failure::input(tr!("{}: {e}; name another folder", args.folder.display())))?;
    let mut command = Args::described();
    command.build();
    let mut pages = Vec::new();
    gather(&command, "foreply", &mut pages);
    for (name, page) in &pages {
        let path = args.folder.join(format!("{name}.1"));
        let output = Output::to(&path, &asked).map_err(Failure::input)?;
        output.write(page).map_err(Failure::input)?;
    }
    global.tell(&[tr!(
        "{} pages written to {}",
        pages.len(),
        args.folder.display()
    )]);
    Ok(())
}

fn gather(command: &clap::Command, name: &str, pages: &mut Vec<(String, String)>) {
    let mut page = Vec::new();
    let titled = command.clone().display_name(name.to_owned());
    // Writing into memory does not fail.
    if clap_mangen::Man::new(titled).render(&mut page).is_ok() {
        pages.push((name.to_owned(), String::from_utf8_lossy(&page).into_owned()));
    }
    for below in command.get_subcommands() {
        gather(below, &format!("{name}-{}", below.get_name()), pages);
    }
}
