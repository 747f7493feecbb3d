//! How a row of the table is written: one line for a choice, from which its lens, its kind and its
//! texts are made.

/// Makes rows of a step: kind, id, title, the field that it reads and writes, what it takes,
/// the figures it moves, why it matters, what a poor pick costs. A text put together stands in
/// parentheses.
macro_rules! rows {
    ($step:ident; $($kind:ident $id:tt $title:tt ($($path:ident).+) $({$($arg:tt)*})? [$($figure:ident)*] $why:tt $poor:tt;)+) => {
        vec![$(Choice {
            id: $id,
            step: Step::$step,
            title: $title,
            kind: rows!(@kind $kind $($($arg)*)?),
            why: $why,
            poor: $poor,
            moves: &[$(Figure::$figure),*],
            get: |build| rows!(@get $kind (build.$($path).+) $($($arg)*)?),
            set: |build, value| rows!(@set $kind (build.$($path).+) value $($($arg)*)?),
        }),+]
    };
    (@kind part $kinds:expr) => { Kind::Part { kinds: $kinds, unset: None } };
    (@get part ($place:expr) $kinds:expr) => { Value::Part(Some($place)) };
    (@set part ($place:expr) $value:ident $kinds:expr) => {
        if let Value::Part(Some(id)) = $value { $place = *id; }
    };
    (@kind optional $kinds:expr, $unset:literal) => { Kind::Part { kinds: $kinds, unset: Some($unset) } };
    (@get optional ($place:expr) $kinds:expr, $unset:literal) => { Value::Part($place) };
    (@set optional ($place:expr) $value:ident $kinds:expr, $unset:literal) => {
        if let Value::Part(id) = $value { $place = *id; }
    };
    (@kind parts $kind:expr) => { Kind::Parts($kind) };
    (@get parts ($place:expr) $kind:expr) => { Value::Parts($place.clone()) };
    (@set parts ($place:expr) $value:ident $kind:expr) => {
        if let Value::Parts(ids) = $value { $place = ids.clone(); }
    };
    (@kind word $type:ty) => { Kind::Word(<$type as Words>::WORDS) };
    (@get word ($place:expr) $type:ty) => { Value::Word($place.id()) };
    (@set word ($place:expr) $value:ident $type:ty) => {
        if let Value::Word(id) = $value && let Some(word) = <$type as Words>::from_id(id) { $place = word; }
    };
    (@kind flag) => { Kind::Flag };
    (@get flag ($place:expr)) => { Value::Flag($place) };
    (@set flag ($place:expr) $value:ident) => {
        if let Value::Flag(yes) = $value { $place = *yes; }
    };
    (@kind amount) => { Kind::Amount };
    (@get amount ($place:expr)) => { Value::Amount($place) };
    (@set amount ($place:expr) $value:ident) => {
        if let Value::Amount(money) = $value { $place = *money; }
    };
    // A quantity: unit module, least, most, step.
    (@kind number $unit:ident $least:literal $most:literal $step:literal) => {
        Kind::Number(NumberKind { unit: crate::units::$unit::SYMBOL, least: $least, most: $most, step: $step, whole: false, among: &[], unset: None })
    };
    (@get number ($place:expr) $unit:ident $($rest:tt)*) => {
        Value::Number(Some(crate::build::choices::tidy(crate::units::$unit::from($place))))
    };
    (@set number ($place:expr) $value:ident $unit:ident $($rest:tt)*) => {
        if let Value::Number(Some(number)) = $value { $place = crate::units::$unit::of(*number); }
    };
    // A quantity that may be left out.
    (@kind maybe $unit:ident $least:literal $most:literal $step:literal $unset:literal) => {
        Kind::Number(NumberKind { unit: crate::units::$unit::SYMBOL, least: $least, most: $most, step: $step, whole: false, among: &[], unset: Some($unset) })
    };
    (@get maybe ($place:expr) $unit:ident $($rest:tt)*) => {
        Value::Number($place.map(|quantity| crate::build::choices::tidy(crate::units::$unit::from(quantity))))
    };
    (@set maybe ($place:expr) $value:ident $unit:ident $($rest:tt)*) => {
        if let Value::Number(number) = $value { $place = number.map(crate::units::$unit::of); }
    };
    // A whole number that may be left out.
    (@kind maybe_count $least:literal $most:literal $step:literal $unset:literal) => {
        Kind::Number(NumberKind { unit: "", least: $least, most: $most, step: $step, whole: true, among: &[], unset: Some($unset) })
    };
    (@get maybe_count ($place:expr) $($rest:tt)*) => { Value::Number($place.map(f64::from)) };
    (@set maybe_count ($place:expr) $value:ident $($rest:tt)*) => {
        if let Value::Number(number) = $value { $place = number.map(|number| number as u32); }
    };
    // A whole number.
    (@kind count $least:literal $most:literal $step:literal) => {
        Kind::Number(NumberKind { unit: "", least: $least, most: $most, step: $step, whole: true, among: &[], unset: None })
    };
    (@get count ($place:expr) $($rest:tt)*) => { Value::Number(Some(f64::from($place))) };
    (@set count ($place:expr) $value:ident $($rest:tt)*) => {
        if let Value::Number(Some(number)) = $value { $place = *number as u32; }
    };
    // One of a few whole numbers; read and written as any whole number.
    (@kind one_of $among:ident) => {
        Kind::Number(NumberKind { unit: "", least: $among[0], most: $among[$among.len() - 1], step: 1.0, whole: true, among: $among, unset: None })
    };
    (@get one_of $($rest:tt)*) => { rows!(@get count $($rest)*) };
    (@set one_of $($rest:tt)*) => { rows!(@set count $($rest)*) };
}
pub(super) use rows;
