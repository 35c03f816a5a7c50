#include "drawing/fonts.hpp"

#include <array>
#include <cstddef>

#include <hb-ot.h>

#include "drawing/embedded.hpp"
#include "units/ensure.hpp"

namespace linewright::drawing {
namespace {

std::size_t index_of(Face face) {
  return static_cast<std::size_t>(face);
}

std::string_view built_in_file(Face face) {
  switch (face) {
    case Face::lettering:
      return embedded_file("fonts/RobotoCondensed-Regular.ttf");
    case Face::lettering_bold:
      return embedded_file("fonts/RobotoCondensed-Bold.ttf");
    case Face::fallback:
      return embedded_file("fonts/DejaVuSansCondensed.ttf");
    case Face::fallback_bold:
      return embedded_file("fonts/DejaVuSansCondensed-Bold.ttf");
    case Face::first_given:
      break;
  }
  return {};
}

OwnedFont load(Face face) {
  OwnedFont out = open_font(built_in_file(face));
  ENSURE(out != nullptr);
  return out;
}

}  // namespace

OwnedFont open_font(std::string_view bytes) {
  hb_blob_t* blob = hb_blob_create(bytes.data(), static_cast<unsigned>(bytes.size()),
                                   HB_MEMORY_MODE_READONLY, nullptr, nullptr);
  hb_face_t* hb_face = hb_face_create(blob, 0);
  hb_blob_destroy(blob);
  OwnedFont out(hb_font_create(hb_face), &hb_font_destroy);
  hb_face_destroy(hb_face);
  if (hb_face_get_glyph_count(hb_font_get_face(out.get())) == 0) out.reset();
  if (out != nullptr) hb_font_make_immutable(out.get());
  return out;
}

std::string_view font_file(const FontSet& fonts, Face face) {
  if (face < Face::first_given) return built_in_file(face);
  return fonts.given()->files.at(index_of(face) - built_in_faces).bytes;
}

hb_font_t* font(const FontSet& fonts, Face face) {
  static const std::array<OwnedFont, built_in_faces> built_in{
      load(Face::lettering), load(Face::lettering_bold), load(Face::fallback),
      load(Face::fallback_bold)};
  if (face < Face::first_given) return built_in[index_of(face)].get();
  return fonts.given()->fonts.at(index_of(face) - built_in_faces).get();
}

double units_per_em(const FontSet& fonts, Face face) {
  return hb_face_get_upem(hb_font_get_face(font(fonts, face)));
}

double capital_height_per_em() {
  static const double share = [] {
    hb_position_t height = 0;
    const bool found = hb_ot_metrics_get_position(font({}, Face::lettering),
                                                  HB_OT_METRICS_TAG_CAP_HEIGHT, &height) != 0;
    ENSURE(found && height > 0);
    return height / units_per_em({}, Face::lettering);
  }();
  return share;
}

}  // namespace linewright::drawing
