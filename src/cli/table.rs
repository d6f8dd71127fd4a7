//! Tables on the screen: words left, figures right, columns two spaces apart.

/// Where a column's cells stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    Left,
    /// Left, and the first to give way.
    Key,
    /// Left, and never cut: it is of no use but whole.
    Whole,
    Right,
}

/// No column of words gets narrower than this.
const NARROWEST: usize = 10;

/// A table under one head, with rules where they are asked for.
pub struct Table {
    columns: Vec<(String, Align)>,
    rows: Vec<Row>,
}

enum Row {
    Cells(Vec<String>),
    Rule,
}

impl Table {
    pub fn new(columns: &[(&str, Align)]) -> Table {
        let columns = columns.iter().map(|(head, align)| ((*head).to_owned(), *align)).collect();
        Table { columns, rows: Vec::new() }
    }

    pub fn row(&mut self, cells: Vec<String>) {
        self.rows.push(Row::Cells(cells));
    }

    /// A line across, as above a sum.
    pub fn rule(&mut self) {
        self.rows.push(Row::Rule);
    }

    /// The table as text. Where it is wider than `width`, the widest columns of words give way.
    pub fn text(&self, width: usize) -> String {
        let widths = self.widths(width);
        let heads: Vec<String> = self.columns.iter().map(|(head, _)| head.clone()).collect();
        let rule = "─".repeat(widths.iter().sum::<usize>() + 2 * widths.len().saturating_sub(1));
        let mut text = format!("{}\n{rule}\n", self.line(&heads, &widths));
        for row in &self.rows {
            match row {
                Row::Cells(cells) => text.push_str(&self.line(cells, &widths)),
                Row::Rule => text.push_str(&rule),
            }
            text.push('\n');
        }
        text
    }

    fn widths(&self, most: usize) -> Vec<usize> {
        let mut widths: Vec<usize> =
            self.columns.iter().map(|(head, _)| head.chars().count()).collect();
        for row in &self.rows {
            if let Row::Cells(cells) = row {
                for (width, cell) in widths.iter_mut().zip(cells) {
                    *width = (*width).max(cell.chars().count());
                }
            }
        }
        let gaps = 2 * widths.len().saturating_sub(1);
        let mut over = (widths.iter().sum::<usize>() + gaps).saturating_sub(most);
        // Down to a width that can still be read; of words the widest column first.
        for align in [Align::Key, Align::Left] {
            while over > 0 {
                let words = (0..widths.len()).filter(|&i| self.columns[i].1 == align);
                match words.max_by_key(|&i| widths[i]).filter(|&i| widths[i] > NARROWEST) {
                    Some(i) => widths[i] -= 1,
                    None => break,
                }
                over -= 1;
            }
        }
        widths
    }

    fn line(&self, cells: &[String], widths: &[usize]) -> String {
        let padded: Vec<String> = cells
            .iter()
            .zip(widths)
            .zip(&self.columns)
            .map(|((cell, &width), (_, align))| {
                let cell = shortened(cell, width);
                match align {
                    Align::Left | Align::Key | Align::Whole => format!("{cell:<width$}"),
                    Align::Right => format!("{cell:>width$}"),
                }
            })
            .collect();
        padded.join("  ").trim_end().to_owned()
    }
}

/// A text in so many characters; one that is cut ends in an ellipsis.
fn shortened(text: &str, width: usize) -> String {
    if text.chars().count() <= width {
        return text.to_owned();
    }
    let kept: String = text.chars().take(width.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_left_figures_right_and_long_words_give_way() {
        let mut table = Table::new(&[("piece", Align::Left), ("cost", Align::Right)]);
        table.row(vec!["A very long washstand of oak".into(), "1.00".into()]);
        table.rule();
        table.row(vec!["all".into(), "12,345.67".into()]);
        assert_eq!(
            table.text(26),
            "piece                 cost\n──────────────────────────\n\
             A very long wa…       1.00\n──────────────────────────\n\
             all              12,345.67\n"
        );
    }
}
