//! The reference tables: comma-separated, a heading above, quoted fields may hold commas.

/// The rows of a table below its heading. No row may leave the field empty that the heading calls `source`.
pub(crate) fn rows<const N: usize>(table: &str) -> Vec<[String; N]> {
    let mut lines = table.lines().map(|line| -> [String; N] {
        fields(line)
            .try_into()
            .unwrap_or_else(|fields| panic!("{N} fields were expected: {fields:?}"))
    });
    let heading = lines.next().expect("a table has a heading");
    let source = heading.iter().position(|name| name == "source");
    let source = source.expect("a table says where its rows are from");
    let rows: Vec<[String; N]> = lines.collect();
    for row in &rows {
        assert!(!row[source].is_empty(), "{} has no source", row[0]);
    }
    rows
}

fn fields(line: &str) -> Vec<String> {
    let mut fields = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => fields.push(String::new()),
            other => fields.last_mut().expect("one at least").push(other),
        }
    }
    fields
}
