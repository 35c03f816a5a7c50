#include "drawing/png.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include <cairo.h>
#include <fmt/core.h>

#include "drawing/paint.hpp"

namespace linewright::drawing {
namespace {

constexpr double mm_per_inch = 25.4;
constexpr double longest_side = 32'767.0;  // of a Cairo image surface

cairo_status_t append(void* closure, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

// Pixels per millimetre, within what Cairo and memory can take.
double scale_of(const DisplayList& sheet, double dpi) {
  const double by_side = longest_side / std::max(sheet.width, sheet.height);
  const double by_pixels = std::sqrt(largest_png_pixels / (sheet.width * sheet.height));
  return std::min({dpi / mm_per_inch, by_side, by_pixels});
}

int pixels(double size, double scale) {
  return static_cast<int>(std::clamp(std::round(size * scale), 1.0, longest_side));
}

}  // namespace

Result<std::string> write_png(const Drawing& drawing, const PngOptions& options) {
  if (options.sheet >= drawing.sheets.size())
    return fail(fmt::format("there is no sheet {}", options.sheet + 1));
  if (!(options.dpi > 0.0)) return fail("the resolution must be above 0 dpi");
  const Result<std::unique_ptr<CairoFaces>> faces = open_cairo_faces(drawing.fonts);
  if (!faces) return tl::unexpected(faces.error());

  const DisplayList& sheet = drawing.sheets[options.sheet];
  const double scale = scale_of(sheet, options.dpi);
  const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels(sheet.width, scale),
                                 pixels(sheet.height, scale)),
      &cairo_surface_destroy);
  const std::unique_ptr<cairo_t, decltype(&cairo_destroy)> context(cairo_create(surface.get()),
                                                                   &cairo_destroy);
  cairo_set_source_rgb(context.get(), 1.0, 1.0, 1.0);
  cairo_paint(context.get());
  cairo_scale(context.get(), scale, scale);
  paint(context.get(), sheet, **faces);
  std::string bytes;
  cairo_status_t status = cairo_status(context.get());
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_write_to_png_stream(surface.get(), append, &bytes);
  if (status != CAIRO_STATUS_SUCCESS)
    return fail(fmt::format("the picture can not be made: {}", cairo_status_to_string(status)));
  return bytes;
}

}  // namespace linewright::drawing
