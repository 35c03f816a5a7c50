#include "drawing/fonts.hpp"

#include <array>
#include <cstddef>
#include <memory>

#include <hb-ot.h>

#include "drawing/embedded.hpp"
#include "units/ensure.hpp"

namespace linewright::drawing {
namespace {

using OwnedFont = std::unique_ptr<hb_font_t, decltype(&hb_font_destroy)>;

OwnedFont load(Face face) {
  const std::string_view bytes = font_file(face);
  ENSURE(!bytes.empty());
  hb_blob_t* blob = hb_blob_create(bytes.data(), static_cast<unsigned>(bytes.size()),
                                   HB_MEMORY_MODE_READONLY, nullptr, nullptr);
  hb_face_t* hb_face = hb_face_create(blob, 0);
  hb_blob_destroy(blob);
  OwnedFont out(hb_font_create(hb_face), &hb_font_destroy);
  hb_face_destroy(hb_face);
  ENSURE(hb_face_get_glyph_count(hb_font_get_face(out.get())) > 0);
  hb_font_make_immutable(out.get());
  return out;
}

}  // namespace

Face lettering_face(diagram::Weight weight) {
  return weight == diagram::Weight::bold ? Face::lettering_bold : Face::lettering;
}

Face fallback_face(diagram::Weight weight) {
  return weight == diagram::Weight::bold ? Face::fallback_bold : Face::fallback;
}

std::string_view font_file(Face face) {
  switch (face) {
    case Face::lettering:
      return embedded_file("fonts/RobotoCondensed-Regular.ttf");
    case Face::lettering_bold:
      return embedded_file("fonts/RobotoCondensed-Bold.ttf");
    case Face::fallback:
      return embedded_file("fonts/DejaVuSansCondensed.ttf");
    case Face::fallback_bold:
      return embedded_file("fonts/DejaVuSansCondensed-Bold.ttf");
  }
  return {};
}

hb_font_t* font(Face face) {
  static const std::array<OwnedFont, face_count> fonts{
      load(Face::lettering), load(Face::lettering_bold), load(Face::fallback),
      load(Face::fallback_bold)};
  return fonts[static_cast<std::size_t>(face)].get();
}

double units_per_em(Face face) {
  return hb_face_get_upem(hb_font_get_face(font(face)));
}

double capital_height_per_em() {
  static const double share = [] {
    hb_position_t height = 0;
    const bool found = hb_ot_metrics_get_position(font(Face::lettering),
                                                  HB_OT_METRICS_TAG_CAP_HEIGHT, &height) != 0;
    ENSURE(found && height > 0);
    return height / units_per_em(Face::lettering);
  }();
  return share;
}

}  // namespace linewright::drawing
