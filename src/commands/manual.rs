//! `gantrywright manual`: the manual page, from the same definitions as the help.

use std::io::{self, Write};
use std::process::ExitCode;

use clap::CommandFactory as _;
use clap_mangen::Man;

use super::{Cli, Failure, output};

pub(super) fn run() -> Result<ExitCode, Failure> {
    let mut page = Vec::new();
    render(&mut page).map_err(|error| Failure::new(error.to_string()))?;
    output::answer(&String::from_utf8_lossy(&page))
}

/// The page of the program, and on it each command with its options.
fn render(page: &mut impl Write) -> io::Result<()> {
    let mut command = Cli::command();
    command.build();
    let man = Man::new(command.clone());
    man.render_title(page)?;
    man.render_name_section(page)?;
    man.render_synopsis_section(page)?;
    man.render_description_section(page)?;
    man.render_options_section(page)?;
    for sub in command
        .get_subcommands()
        .filter(|sub| sub.get_name() != "help")
    {
        writeln!(page, ".SH COMMAND: {}", sub.get_name().to_uppercase())?;
        let man = Man::new(sub.clone());
        // Its own headings would end the section of the command: they become smaller ones.
        let mut body = Vec::new();
        man.render_synopsis_section(&mut body)?;
        man.render_description_section(&mut body)?;
        man.render_options_section(&mut body)?;
        let body = String::from_utf8_lossy(&body).replace("\n.SH ", "\n.SS ");
        page.write_all(
            body.strip_prefix(".SH ")
                .map_or(body.clone(), |rest| format!(".SS {rest}"))
                .as_bytes(),
        )?;
    }
    man.render_extra_section(page)?;
    man.render_version_section(page)
}
