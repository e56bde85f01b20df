//! Pictures of boards as PNG, for readers that draw no SVG: mail, feeds, and the previews of links
//! (crate resvg).

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree};

/// The most pixels of a side: as many as a sheet of A3 has at 600 dots per inch.
const WIDEST: u32 = 10_000;
/// Pixels of the picture that previews of links show: 1.91 to 1, the ratio that `og:image` is
/// commonly cut to.
const PREVIEW: (u32, u32) = (1200, 630);

/// A picture as a PNG file of that width in pixels, its height in the same ratio.
///
/// # Errors
/// Why there is none: no SVG, or a width that is 0 or above 10,000.
pub fn png(svg: &str, width: u32) -> Result<Vec<u8>, String> {
    let tree = read(svg)?;
    let ratio = f64::from(tree.size().height()) / f64::from(tree.size().width());
    let height = (f64::from(width) * ratio).round().min(f64::from(u32::MAX)) as u32;
    let mut pixels = canvas(width, height)?;
    let scale = width as f32 / tree.size().width();
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut pixels.as_mut(),
    );
    pixels
        .encode_png()
        .map_err(|error| format!("cannot write a PNG: {error}"))
}

/// The same as a preview of a link: 1,200 by 630 pixels, the board in the middle, paper beside it.
///
/// # Errors
/// Why there is none: no SVG.
pub fn og_image(svg: &str) -> Result<Vec<u8>, String> {
    let tree = read(svg)?;
    let (width, height) = PREVIEW;
    let mut pixels = canvas(width, height)?;
    pixels.fill(Color::WHITE);
    let (wide, high) = (width as f32, height as f32);
    let scale = (wide / tree.size().width()).min(high / tree.size().height());
    let left = (wide - tree.size().width() * scale) / 2.0;
    let top = (high - tree.size().height() * scale) / 2.0;
    let place = Transform::from_scale(scale, scale).post_translate(left, top);
    resvg::render(&tree, place, &mut pixels.as_mut());
    pixels
        .encode_png()
        .map_err(|error| format!("cannot write a PNG: {error}"))
}

fn read(svg: &str) -> Result<Tree, String> {
    Tree::from_str(svg, &Options::default()).map_err(|error| format!("no picture to draw: {error}"))
}

fn canvas(width: u32, height: u32) -> Result<Pixmap, String> {
    let fits = (1..=WIDEST).contains(&width) && (1..=WIDEST).contains(&height);
    let pixels = if fits {
        Pixmap::new(width, height)
    } else {
        None
    };
    pixels.ok_or_else(|| {
        format!("a PNG of {width} by {height} pixels cannot be drawn: both are 1 to {WIDEST}")
    })
}
