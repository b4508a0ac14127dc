//! Plots as SVG. Lines differ in dashes and marks as well as in colour.

use std::error::Error;
use std::ops::Range;

use plotters::coord::Shift;
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;

use super::model::{Axis, Figure, Series};

/// Size of a plot; a page scales it.
const SIZE: (u32, u32) = (440, 340);
/// Height of a legend's row, and its columns.
const ROW: i32 = 23;
const COLUMNS: usize = 3;
/// Size of letters, of which a letter's height is four fifths.
const LETTERS: u32 = 18;

/// How far a mark reaches, pixels.
const MARK: i32 = 4;

/// A colour on white paper and on dark: style sheets replace the first with the second.
pub(super) struct Tint {
    /// On paper.
    pub(super) light: RGBColor,
    /// On dark, as style sheets write it.
    pub(super) dark: &'static str,
}

/// Axes, letters and marks without a series.
pub(super) const INK: Tint = tint(0x26, 0x22, 0x1c, "#eee6d6");
/// Lines of the grid.
pub(super) const GRID: Tint = tint(0xd8, 0xcd, 0xb5, "#3d3932");
/// Series, in order.
pub(super) const INKS: [Tint; 6] = [
    tint(0x1f, 0x4f, 0x7a, "#8ec5f0"),
    tint(0xa5, 0x31, 0x1f, "#f59a86"),
    tint(0x3b, 0x6a, 0x2f, "#a9d38f"),
    tint(0x8a, 0x5a, 0x00, "#f0b35c"),
    tint(0x6b, 0x3d, 0x7d, "#cfa8e0"),
    tint(0x4a, 0x4a, 0x46, "#d0cdc4"),
];
/// Dash and gap of each series' line; no gap for a whole line.
const DASHES: [(i32, i32); 6] = [(1, 0), (9, 4), (3, 3), (14, 5), (6, 8), (2, 6)];

const fn tint(r: u8, g: u8, b: u8, dark: &'static str) -> Tint {
    Tint {
        light: RGBColor(r, g, b),
        dark,
    }
}

type Failure = Box<dyn Error + Send + Sync>;
type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
type Chart<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;

/// A figure as an SVG element.
///
/// # Errors
/// Fails where the library cannot draw it.
pub(super) fn svg(figure: &Figure) -> Result<String, Failure> {
    let mut text = String::new();
    draw(figure, &mut text).map_err(|error| error.to_string())?;
    Ok(text)
}

fn draw(figure: &Figure, text: &mut String) -> Result<(), Box<dyn Error>> {
    let named: Vec<(usize, &Series)> = figure
        .series
        .iter()
        .enumerate()
        .filter(|(_, s)| !s.name.is_empty())
        .collect();
    let legend = ROW * named.len().div_ceil(COLUMNS) as i32;
    let size = (SIZE.0, SIZE.1 + legend as u32);
    let area = SVGBackend::with_string(text, size).into_drawing_area();
    let (upper, lower) = area.split_vertically(SIZE.1 as i32);
    let values = |pick: fn(&Series) -> Vec<f64>| figure.series.iter().flat_map(pick).collect();
    let x = range(
        &figure.x,
        values(|s| s.points.iter().map(|p| p.0).collect()),
    );
    let y = range(&figure.y, values(heights));
    let mut chart = ChartBuilder::on(&upper)
        .margin(8)
        .margin_right(18)
        .x_label_area_size(48)
        .y_label_area_size(70)
        .build_cartesian_2d(x, y)?;
    let letters = ("sans-serif", LETTERS).into_font().color(&INK.light);
    chart
        .configure_mesh()
        .x_desc(&figure.x.label)
        .y_desc(&figure.y.label)
        .x_labels(6)
        .y_labels(7)
        .label_style(letters.clone())
        .axis_desc_style(letters)
        .axis_style(INK.light)
        .bold_line_style(GRID.light)
        .light_line_style(TRANSPARENT)
        .x_label_formatter(&|v| label(&figure.x, *v))
        .y_label_formatter(&|v| label(&figure.y, *v))
        .draw()?;
    for (index, series) in figure.series.iter().enumerate() {
        line(&mut chart, &upper, figure, index, series)?;
    }
    for (place, (index, series)) in named.into_iter().enumerate() {
        entry(&lower, place, index, series)?;
    }
    area.present()?;
    drop((chart, upper, lower, area));
    Ok(())
}

/// Every height that a series reaches.
fn heights(series: &Series) -> Vec<f64> {
    let band = series.band.iter().flat_map(|b| [b.1, b.2]);
    series.points.iter().map(|p| p.1).chain(band).collect()
}

/// The range of an axis on the paper, where logarithms count for a logarithmic one.
fn range(axis: &Axis, values: Vec<f64>) -> Range<f64> {
    let scaled = values.into_iter().map(|v| scaled(axis, v));
    let (low, high) = match axis.range {
        Some((from, to)) => return self::scaled(axis, from)..self::scaled(axis, to),
        None => scaled
            .filter(|v| v.is_finite())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| {
                (low.min(v), high.max(v))
            }),
    };
    if low > high {
        return 0.0..1.0;
    }
    let room = ((high - low) * 0.08).max(1e-3);
    low - room..high + room
}

fn scaled(axis: &Axis, value: f64) -> f64 {
    if axis.logarithmic {
        value.max(1e-9).log10()
    } else {
        value
    }
}

/// What is written beside an axis: two digits that count where steps are factors.
fn label(axis: &Axis, value: f64) -> String {
    let places = match axis.logarithmic {
        true => (1.0 - value.floor()).clamp(0.0, 9.0) as usize,
        false => 4,
    };
    let real = if axis.logarithmic {
        10f64.powf(value)
    } else {
        value
    };
    let text = format!("{real:.places$}");
    let text = match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.'),
        false => &text,
    };
    // Rounding leaves a sign before what is nothing.
    if text == "-0" {
        "0".into()
    } else {
        text.into()
    }
}

fn line(
    chart: &mut Chart,
    area: &Area,
    figure: &Figure,
    index: usize,
    series: &Series,
) -> Result<(), Box<dyn Error>> {
    let place = |x: f64, y: f64| (scaled(&figure.x, x), scaled(&figure.y, y));
    let look = series.like.unwrap_or(index) % INKS.len();
    let colour = if series.reference && series.like.is_none() {
        INK.light
    } else {
        INKS[look].light
    };
    if !series.band.is_empty() {
        let lower = series.band.iter().map(|b| place(b.0, b.1));
        let upper = series.band.iter().rev().map(|b| place(b.0, b.2));
        let outline: Vec<(f64, f64)> = lower.chain(upper).collect();
        chart.draw_series([Polygon::new(outline, colour.mix(0.2))])?;
    }
    let points: Vec<(f64, f64)> = series.points.iter().map(|p| place(p.0, p.1)).collect();
    let (width, dash) = if series.reference {
        (1, (5, 4))
    } else {
        (2, DASHES[look])
    };
    let style = colour.stroke_width(width);
    if dash.1 == 0 {
        chart.draw_series(LineSeries::new(points.clone(), style))?;
    } else {
        chart.draw_series(DashedLineSeries::new(points.clone(), dash.0, dash.1, style))?;
    }
    // A reference that belongs to a series has its mark too, and a smaller one.
    let reach = match (series.reference, series.like) {
        (false, _) => MARK,
        (true, Some(_)) => MARK - 1,
        (true, None) => return Ok(()),
    };
    for at in points {
        mark(area, chart.backend_coord(&at), look, reach)?;
    }
    Ok(())
}

/// Draws the mark of a series around a pixel, so many pixels to each side.
fn mark(area: &Area, at: (i32, i32), look: usize, reach: i32) -> Result<(), Box<dyn Error>> {
    let colour = INKS[look].light;
    let off = |x: i32, y: i32| (at.0 + x, at.1 + y);
    let wide = reach + reach / 2;
    match look {
        0 => area.draw(&Circle::new(at, reach, colour.filled()))?,
        1 => area.draw(&Rectangle::new(
            [off(-reach, -reach), off(reach, reach)],
            colour.filled(),
        ))?,
        2 => area.draw(&TriangleMarker::new(at, wide, colour.filled()))?,
        3 => area.draw(&Cross::new(at, reach, colour.stroke_width(2)))?,
        4 => {
            let diamond = [off(0, -wide), off(wide, 0), off(0, wide), off(-wide, 0)];
            area.draw(&Polygon::new(diamond.to_vec(), colour.filled()))?;
        }
        _ => area.draw(&Circle::new(at, reach, colour.stroke_width(2)))?,
    }
    Ok(())
}

/// An entry of the legend below the plot.
fn entry(area: &Area, place: usize, index: usize, series: &Series) -> Result<(), Box<dyn Error>> {
    let (column, row) = (place % COLUMNS, place / COLUMNS);
    let x = 6 + (SIZE.0 as i32 - 20) / COLUMNS as i32 * column as i32;
    let y = ROW * row as i32 + ROW / 2 - 2;
    let look = series.like.unwrap_or(index) % INKS.len();
    let (colour, dash) = match (series.reference, series.like) {
        (true, None) => (INK.light, (5, 4)),
        (true, _) => (INKS[look].light, (5, 4)),
        _ => (INKS[look].light, DASHES[look]),
    };
    let mut from = x;
    while from < x + 28 {
        let to = if dash.1 == 0 {
            x + 28
        } else {
            (from + dash.0).min(x + 28)
        };
        area.draw(&PathElement::new(
            [(from, y), (to, y)],
            colour.stroke_width(2),
        ))?;
        from = to + dash.1.max(1);
    }
    if !series.reference {
        mark(area, (x + 14, y), look, MARK)?;
    }
    let letters = ("sans-serif", LETTERS).into_font().color(&INK.light);
    area.draw(&Text::new(series.name.clone(), (x + 33, y - 9), letters))?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_say_where_steps_lie() {
        let even = Axis::new("");
        assert_eq!(label(&even, -1e-9), "0");
        assert_eq!(label(&even, 20.0), "20");
        assert_eq!(label(&even, -0.25), "-0.25");
        let factors = Axis::new("").logarithmic();
        assert_eq!(label(&factors, -0.9), "0.13");
        assert_eq!(label(&factors, -3.0), "0.001");
        assert_eq!(label(&factors, 1.0), "10");
    }
}
