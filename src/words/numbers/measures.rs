//! What stands beside a number: its ending, a unit, money.

use super::{NAMES, cardinal, with_end};

/// What is written behind a figure: an ordinal, a plural, a unit of measure. `None` where it is none of these.
pub(super) fn with_unit(
    number: Vec<Vec<&'static str>>,
    unit: &str,
) -> Option<Vec<Vec<&'static str>>> {
    let last = match unit {
        "" | "." => return Some(number),
        "st" | "nd" | "rd" | "th" => Some(Last::Ordinal),
        "s" | "'s" => Some(Last::Plural),
        "er" => Some(Last::Person),
        "ers" => Some(Last::People),
        _ => None,
    };
    if let Some(last) = last {
        return number
            .into_iter()
            .map(|mut words| {
                // *100s*: hundreds.
                if matches!(last, Last::Plural) && words.len() == 2 && words.first() == Some(&"one")
                {
                    words.remove(0);
                }
                with_last(words, last)
            })
            .collect();
    }
    let plain: String = unit.chars().filter(|sign| *sign != '.').collect();
    let (_, one, many) = UNITS.iter().find(|row| row.0 == plain)?;
    let all = number.into_iter().map(|mut words| {
        let names = if words == ["one"] { one } else { many };
        words.extend_from_slice(names);
        words
    });
    Some(all.collect())
}

/// Signs and short forms behind a figure, what they are said as behind one, and behind another number. Common practice,
/// no source.
#[rustfmt::skip]
const UNITS: &[(&str, &[&str], &[&str])] = &[
    ("%", &["percent"], &["percent"]), ("¢", &["cent"], &["cents"]), ("°", &["degree"], &["degrees"]),
    ("°c", &["degree", "celsius"], &["degrees", "celsius"]), ("°f", &["degree", "fahrenheit"], &["degrees", "fahrenheit"]),
    ("am", &["ay", "em"], &["ay", "em"]), ("bn", &["billion"], &["billion"]), ("cm", &["centimeter"], &["centimeters"]),
    ("ft", &["foot"], &["feet"]), ("hr", &["hour"], &["hours"]), ("hrs", &["hour"], &["hours"]), ("k", &["kay"], &["kay"]),
    ("kg", &["kilogram"], &["kilograms"]), ("km", &["kilometer"], &["kilometers"]), ("lb", &["pound"], &["pounds"]),
    ("lbs", &["pound"], &["pounds"]), ("m", &["meter"], &["meters"]), ("mi", &["mile"], &["miles"]), ("min", &["minute"], &["minutes"]),
    ("mins", &["minute"], &["minutes"]), ("ml", &["milliliter"], &["milliliters"]), ("mm", &["millimeter"], &["millimeters"]),
    ("mph", &["mile", "an", "hour"], &["miles", "an", "hour"]), ("oz", &["ounce"], &["ounces"]), ("p", &["pee"], &["pee"]),
    ("pm", &["pee", "em"], &["pee", "em"]), ("sec", &["second"], &["seconds"]), ("secs", &["second"], &["seconds"]),
    ("yd", &["yard"], &["yards"]), ("yds", &["yard"], &["yards"]), ("yr", &["year"], &["years"]), ("yrs", &["year"], &["years"]),
];

/// What becomes of the last word of a number.
#[derive(Clone, Copy)]
enum Last {
    /// *seventh*
    Ordinal,
    /// *sixties*
    Plural,
    /// *forty-niner*
    Person,
    People,
}

fn with_last(mut words: Vec<&'static str>, last: Last) -> Option<Vec<&'static str>> {
    let name = words.pop()?;
    let row = NAMES.iter().find(|row| row.1 == name)?;
    words.push(match last {
        Last::Ordinal => row.2,
        Last::Plural => row.3,
        Last::Person if row.0 == 9 => "niner",
        Last::People if row.0 == 9 => "niners",
        Last::Person | Last::People => return None,
    });
    Some(words)
}

pub(super) fn money(amount: &str, whole: &str) -> Option<Vec<Vec<&'static str>>> {
    let end = amount
        .rfind(|sign: char| sign.is_ascii_digit())
        .map_or(0, |at| at + 1);
    let (figures, many) = amount.split_at_checked(end)?;
    let unit = match (whole.chars().next()?, figures == "1" && many.is_empty()) {
        ('$', true) => "dollar",
        ('$', false) => "dollars",
        ('£', true) => "pound",
        ('£', false) => "pounds",
        ('¢', true) => "cent",
        ('¢', false) => "cents",
        _ => "euros",
    };
    let many = match many {
        "" | "." => None,
        "k" => Some("thousand"),
        "m" => Some("million"),
        "b" | "bn" => Some("billion"),
        _ => return None,
    };
    match figures.split_once('.') {
        Some((units, cents)) if cents.len() == 2 && many.is_none() => {
            let cents = cardinal(cents.trim_start_matches('0')).unwrap_or_default();
            let cents = cents.into_iter().next().unwrap_or_default();
            let units = cardinal(units)?.into_iter().next()?;
            if units == ["zero"] {
                return Some(with_end(vec![cents], "cents"));
            }
            let with_unit = [units.clone(), vec![unit], cents.clone()].concat();
            Some(vec![with_unit, [units, cents].concat()])
        }
        _ => {
            let mut number = cardinal(figures)?;
            if let Some(many) = many {
                number = with_end(number, many);
            }
            Some(with_end(number, unit))
        }
    }
}
