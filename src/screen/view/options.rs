//! The options of the focused choice, one line each with what taking it would change; for
//! numbers the field and the values around it.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::differences::{marks, number, turn};
use super::paint::{Pen, name_under_cursor};
use crate::assessment::FigureValue;
use crate::build::choices::{Choice, Figure, Kind};

use crate::money::show as amounts;
use crate::rules::Severity;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::options::{OptionRow, bounds, taken};
use crate::screen::preview::Glance;
use crate::screen::state::{Focus, NumberField, State};
use crate::screen::text;
use crate::words::Words;

/// The longest title of a figure where there is little room.
const SHORT_TITLE: usize = 7;

/// Where the text of the number field begins.
pub(super) const FIELD_COLUMN: usize = 9;

/// The columns that the number field has at least, and at most.
const LEAST_FIELD: usize = 8;
const MOST_FIELD: usize = 24;

/// As many pieces as most rows have, so that a row asks for memory once.
const SPANS: usize = 6;

/// The columns of an option row.
struct Columns {
    name: usize,
    price: usize,
    /// The total after, on wide screens.
    total: usize,
    figure: usize,
    /// What heads the figure.
    title: String,
    /// The main figure of the choice as the build has it, and as its rows tell it.
    now: Option<(FigureValue, String)>,
    warnings: usize,
    /// Whether there is room for before and after.
    wide: bool,
}

impl Columns {
    fn of(state: &State, choice: &Choice, width: usize) -> Self {
        let wide = width >= 70;
        // Narrow, the name keeps the 22 columns that short names may have.
        let (price, total, warnings) = if wide { (8, 8, 11) } else { (7, 0, 8) };
        let figure = choice.main_figure();
        let now = figure.and_then(|figure| state.now.figure(figure));
        let title = figure_title(state, figure, now.as_ref(), wide);
        let now = now.map(|value| {
            let told = state.speller.bare(&number(&value), value.unit);
            (value, told)
        });
        let figure = match figure {
            Some(_) if wide => 17,
            Some(_) => 7.max(text::width(&title) + 1),
            None => 0,
        };
        let name = width.saturating_sub(2 + price + total + figure + warnings);
        Self {
            name,
            price,
            total,
            figure,
            title,
            now,
            warnings,
            wide,
        }
    }
}

/// What heads the column of a figure, as short as the room asks.
fn figure_title(
    state: &State,
    figure: Option<Figure>,
    now: Option<&FigureValue>,
    wide: bool,
) -> String {
    let Some(figure) = figure else {
        return String::new();
    };
    let unit = match now.map_or("", |value| value.unit) {
        percent if percent.starts_with('%') => "%",
        kelvin if kelvin.starts_with('K') => "K",
        unit => state.speller.unit(unit),
    };
    let title = figure.title();
    if wide {
        return format!("{title} {unit}");
    }
    // Of "rapids X" the unit says what it is; of "supply" the name does.
    match title.rsplit_once(' ') {
        Some((_, axis)) => format!("{axis} {unit}"),
        None => {
            let both = format!("{title} {unit}");
            let fitting = [both.as_str(), title].into_iter();
            let mut fitting = fitting.filter(|text| text::width(text) <= SHORT_TITLE);
            fitting.next().unwrap_or(unit).to_owned()
        }
    }
}

/// The line that names the choice and the columns.
pub(super) fn heading(state: &State, pen: &Pen, width: usize, height: usize) -> Line<'static> {
    let across = pen.glyphs.across();
    let Some(choice) = state.choice() else {
        return Line::styled(across.repeat(width), pen.theme.line);
    };
    let columns = Columns::of(state, choice, width);
    let currency = state.now.bill.currency.to_string();
    let list = &state.options;
    let place = match list.rows.len() > height && state.number_field.is_none() {
        true if state.focus == Focus::Options => {
            format!(", {} of {}", list.cursor + 1, list.rows.len())
        }
        true => format!(", {} in all", list.rows.len()),
        false => String::new(),
    };
    // The name comes before the count, where both do not fit.
    let room = columns.name.saturating_sub(3);
    let both = format!("{}{place}", choice.title);
    let (title, place) = if text::width(&both) <= room {
        (choice.title.to_owned(), place)
    } else {
        (pen.cut(choice.title, room), String::new())
    };
    let named = text::width(&title) + text::width(&place);
    let rest = (columns.name + 1).saturating_sub(named + 3);
    let total = if columns.total > 0 { "in all" } else { "" };
    let warnings = if columns.wide { "warnings" } else { "warns" };
    let names = format!(
        "{}{}{} {warnings}",
        pen.right(&currency, columns.price + 1),
        pen.right(total, columns.total),
        pen.right(&columns.title, columns.figure),
    );
    Line::from(vec![
        Span::styled(across.repeat(2), pen.theme.line),
        Span::styled(format!(" {title}"), pen.theme.title),
        Span::raw(format!("{place} ")),
        Span::styled(across.repeat(rest.saturating_sub(1)), pen.theme.line),
        Span::styled(
            pen.left(&names, width.saturating_sub(3 + named + rest)),
            pen.theme.muted,
        ),
    ])
}

/// The options in view.
pub(super) fn options(state: &State, pen: &Pen, width: usize, height: usize) -> Vec<Line<'static>> {
    let Some(choice) = state.choice() else {
        return Vec::new();
    };
    let mut lines = Vec::with_capacity(height);
    let mut rows = height;
    if let (Some(entry), Kind::Number(_) | Kind::Amount) = (&state.number_field, choice.kind) {
        lines.push(field(state, pen, width, choice, entry));
        rows = height.saturating_sub(1);
        if let Err(wrong) = &entry.value {
            let wrapped = pen.wrap(wrong, width.saturating_sub(2)).into_iter();
            let style = pen.theme.severity(Severity::Fault);
            lines.extend(wrapped.map(|line| Line::styled(format!("  {line}"), style)));
        }
    }
    let list = &state.options;
    if list.rows.is_empty() && state.number_field.is_none() {
        let text = format!("  nothing found{}", shows_all(state));
        return vec![Line::styled(text, pen.theme.muted)];
    }
    let columns = Columns::of(state, choice, width);
    let name = names(pen, &list.rows, columns.name);
    for (place, option) in list.rows.iter().enumerate().skip(list.top).take(rows) {
        let here = state.focus == Focus::Options && place == list.cursor;
        let line = row(state, pen, &columns, option, &name(option), here);
        lines.push(if here {
            name_under_cursor(line, pen.theme.selected)
        } else {
            line
        });
    }
    lines
}

/// How the list that is searched comes back in full: `; esc shows all again`.
pub(super) fn shows_all(state: &State) -> String {
    let key = state.keymap.key_of(Place::Find, Action::Back);
    key.map_or_else(String::new, |key| format!("; {key} shows all again"))
}

fn field(
    state: &State,
    pen: &Pen,
    width: usize,
    choice: &Choice,
    entry: &NumberField,
) -> Line<'static> {
    let active = state.focus == Focus::Options;
    let room = width.saturating_sub(FIELD_COLUMN + 1);
    let range = range(state, pen, width, choice);
    let field = field_columns(state, pen, width, choice);
    let style = if active {
        pen.theme.field
    } else {
        pen.theme.muted
    };
    Line::from(vec![
        Span::styled(
            if active { "  type:  " } else { "  number " },
            pen.theme.muted,
        ),
        Span::styled(
            pen.as_typed(text::in_view(entry.typed.as_input(), field), field),
            style,
        ),
        Span::raw("  "),
        Span::styled(
            pen.cut(&range, room.saturating_sub(field + 1)),
            pen.theme.muted,
        ),
    ])
}

/// What the number field takes, as it stands behind it.
fn range(state: &State, pen: &Pen, width: usize, choice: &Choice) -> String {
    let (range, unset) = bounds(choice, state.now.bill.currency);
    let whole = pen.spell(&taken(choice, state.now.bill.currency));
    let room = width.saturating_sub(FIELD_COLUMN + 1);
    // What an empty field means is said below, where it has no room here.
    match unset {
        Some(_) if text::width(&whole) + 2 + LEAST_FIELD > room => pen.spell(&range),
        _ => whole,
    }
}

/// Columns of the text of the number field: as many as what it takes leaves.
pub(super) fn field_columns(state: &State, pen: &Pen, width: usize, choice: &Choice) -> usize {
    let room = width.saturating_sub(FIELD_COLUMN + 1);
    let behind = text::width(&range(state, pen, width, choice)) + 2;
    room.saturating_sub(behind)
        .clamp(LEAST_FIELD.min(room), MOST_FIELD)
}

/// The names of the rows in so many columns: the full ones where all of them fit, the short
/// ones elsewhere.
fn names(pen: &Pen, rows: &[OptionRow], columns: usize) -> impl Fn(&OptionRow) -> String {
    let tick = |row: &OptionRow| match row.ticked {
        Some(true) => "[x] ",
        Some(false) => "[ ] ",
        None => "",
    };
    let fits = |row: &OptionRow| text::width(&row.full) + tick(row).len() <= columns;
    let name: fn(&OptionRow) -> &String = if rows.iter().all(fits) {
        |row| &row.full
    } else {
        |row| &row.short
    };
    move |row| pen.left(&[tick(row), name(row)].concat(), columns)
}

fn row(
    state: &State,
    pen: &Pen,
    columns: &Columns,
    option: &OptionRow,
    name: &str,
    here: bool,
) -> Line<'static> {
    let own = option.part.as_ref();
    let own = own.is_some_and(|id| state.catalogue.own.contains_key(id));
    let arrow = match (here, own) {
        (true, true) => ">*",
        (true, false) => "> ",
        (false, true) => " *",
        (false, false) => "  ",
    };
    let mut spans = Vec::with_capacity(SPANS);
    spans.push(Span::raw([arrow, name].concat()));
    match &option.glance {
        Some(Ok(glance)) => spans.extend(consequences(state, pen, columns, glance)),
        Some(Err(why)) => {
            let room = columns.price + columns.total + columns.figure + columns.warnings - 1;
            let why = format!(" {}", pen.cut(why, room));
            spans.push(Span::styled(why, pen.theme.severity(Severity::Fault)));
        }
        None if option.now => spans.extend(as_it_is(state, pen, columns)),
        None => {}
    }
    Line::from(spans)
}

/// The columns of the option that the build has.
fn as_it_is(state: &State, pen: &Pen, columns: &Columns) -> Vec<Span<'static>> {
    let mut spans = vec![Span::styled(
        pen.right("now", columns.price),
        pen.theme.marked,
    )];
    if columns.total > 0 {
        spans.push(Span::raw(pen.right(
            &amounts::whole(state.now.bill.total.likely),
            columns.total,
        )));
    }
    if let Some((_, told)) = &columns.now {
        spans.push(Span::raw(pen.right(told, columns.figure)));
    }
    spans.push(Span::raw(" ".repeat(columns.warnings)));
    spans
}

fn consequences(
    state: &State,
    pen: &Pen,
    columns: &Columns,
    glance: &Glance,
) -> Vec<Span<'static>> {
    let (before, after) = (&state.now.bill, glance.total);
    let mut spans = Vec::new();
    if before.currency == after.currency {
        let style = match glance.price.round() {
            same if same.is_zero() => pen.theme.muted,
            less if less.is_sign_negative() => pen.theme.good,
            _ => pen.theme.worse,
        };
        spans.push(Span::styled(
            pen.right(&amounts::change(glance.price), columns.price),
            style,
        ));
    } else {
        // A difference between two currencies would be no amount.
        spans.push(Span::styled(
            pen.right(&format!("in {}", after.currency), columns.price),
            pen.theme.muted,
        ));
    }
    if columns.total > 0 {
        spans.push(Span::raw(
            pen.right(&amounts::whole(after.amount), columns.total),
        ));
    }
    if columns.figure > 0 {
        spans.push(figure_cell(pen, columns, glance));
    }
    let marks = marks(pen, &glance.added, &glance.lifted);
    let used: usize = marks.iter().map(Span::width).sum();
    spans.push(Span::raw(" "));
    spans.extend(marks);
    spans.push(Span::raw(
        " ".repeat((columns.warnings - 1).saturating_sub(used)),
    ));
    spans
}

fn figure_cell(pen: &Pen, columns: &Columns, glance: &Glance) -> Span<'static> {
    let (Some((before, was)), Some(after)) = (&columns.now, &glance.figure) else {
        return Span::raw(" ".repeat(columns.figure));
    };
    let will = pen.speller.bare(&number(after), after.unit);
    let text = match columns.wide && *was != will {
        true => format!("{was} -> {will}"),
        false => will.clone(),
    };
    let style = match *was == will {
        true => pen.theme.muted,
        false if columns.wide => turn(pen, before.number, after.number, after.more_is_better),
        // Without the arrow, its colour alone would say that it is better.
        false => Style::new(),
    };
    Span::styled(pen.right(&text, columns.figure), style)
}
