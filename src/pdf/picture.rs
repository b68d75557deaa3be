//! Whether the typesetter can set a picture, before a page asks it to.

use typst::foundations::Bytes;
use typst::visualize::{ExchangeFormat, RasterImage, SvgImage};

const NOT_DRAWN: &str = "it is no SVG that can be drawn";

/// Its width over its height.
///
/// # Errors
/// It cannot be read.
pub fn proportion(bytes: &[u8], svg: bool) -> Result<f64, String> {
    let data = Bytes::new(bytes.to_vec());
    let (width, height) = match svg {
        true => SvgImage::new(data).map(|it| (it.width(), it.height())).map_err(|_| NOT_DRAWN.to_string())?,
        false => RasterImage::plain(data, ExchangeFormat::Png)
            .map(|it| (f64::from(it.width()), f64::from(it.height())))
            .map_err(|error| error.to_string())?,
    };
    let proportion = width / height;
    if proportion.is_finite() && proportion > 0.0 { Ok(proportion) } else { Err("it has no size".into()) }
}
