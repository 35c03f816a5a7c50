#include "drawing/font_set.hpp"

#include <utility>

#include <fmt/core.h>
#include <ft2build.h>
#include <hb-ot.h>
#include FT_FREETYPE_H

#include "drawing/font_subset.hpp"
#include "drawing/fonts.hpp"

namespace linewright::drawing {
namespace {

constexpr float semibold = 600.0F;

using OwnedBlob = std::unique_ptr<hb_blob_t, decltype(&hb_blob_destroy)>;
using OwnedSet = std::unique_ptr<hb_set_t, decltype(&hb_set_destroy)>;

std::string_view table_of(hb_face_t* face, const char (&tag)[5], OwnedBlob& keeper) {
  keeper.reset(hb_face_reference_table(face, HB_TAG(tag[0], tag[1], tag[2], tag[3])));
  unsigned length = 0;
  const char* bytes = hb_blob_get_data(keeper.get(), &length);
  return {bytes, length};
}

bool has_table(hb_face_t* face, const char (&tag)[5]) {
  OwnedBlob keeper(nullptr, &hb_blob_destroy);
  return !table_of(face, tag, keeper).empty();
}

// The field fsType of the table OS/2 (OpenType specification, "OS/2", offset 8): 2 alone in the low
// four bits forbids embedding, 0x100 forbids a subset, 0x200 allows bitmaps only.
bool may_be_embedded(hb_face_t* face) {
  OwnedBlob keeper(nullptr, &hb_blob_destroy);
  const std::string_view table = table_of(face, "OS/2", keeper);
  if (table.size() < 10) return true;
  const auto byte = [&](std::size_t i) {
    return static_cast<unsigned>(static_cast<unsigned char>(table[i]));
  };
  const unsigned rights = (byte(8) << 8U) | byte(9);
  return (rights & 0xFU) != 2U && (rights & 0x300U) == 0U;
}

bool has_characters(hb_face_t* face) {
  const OwnedSet set(hb_set_create(), &hb_set_destroy);
  hb_face_collect_unicodes(face, set.get());
  return hb_set_is_empty(set.get()) == 0;
}

// The PDF and PNG are set with FreeType, so it has to take the file as well.
bool opens_in_freetype(std::string_view bytes) {
  FT_Library library = nullptr;
  if (FT_Init_FreeType(&library) != 0) return false;
  FT_Face face = nullptr;
  const bool sound = FT_New_Memory_Face(library, reinterpret_cast<const FT_Byte*>(bytes.data()),
                                        static_cast<FT_Long>(bytes.size()), 0, &face) == 0 &&
                     FT_IS_SCALABLE(face);
  if (face != nullptr) FT_Done_Face(face);
  FT_Done_FreeType(library);
  return sound;
}

// What is wrong with a font, or nothing.
std::string fault_of(std::string_view bytes, hb_font_t* font) {
  if (bytes.starts_with("wOFF") || bytes.starts_with("wOF2"))
    return "is a web font (WOFF); give the TTF or OTF file it was made from";
  if (font == nullptr) return "is no font, must be a TrueType or OpenType file (TTF, OTF)";
  hb_face_t* face = hb_font_get_face(font);
  if (!has_table(face, "glyf") && !has_table(face, "CFF "))
    return "has no outlines that can be drawn, must hold a table 'glyf' or 'CFF '";
  if (!has_characters(face)) return "says of no character how it looks (table 'cmap')";
  if (!may_be_embedded(face))
    return "may not be embedded, says its maker in it (table 'OS/2', fsType); take another font";
  if (!opens_in_freetype(bytes) || !subset_of(font, U" "))
    return "is damaged: it begins like a font but cannot be read";
  return {};
}

const std::vector<Face>& built_in_order(diagram::Weight weight) {
  static const std::vector<Face> regular{Face::lettering, Face::fallback};
  static const std::vector<Face> bold{Face::lettering_bold, Face::fallback_bold};
  return weight == diagram::Weight::bold ? bold : regular;
}

// First those of the weight that is asked for, then the others.
std::vector<Face> order_with(const GivenFonts& given, diagram::Weight weight) {
  std::vector<Face> out = built_in_order(weight);
  const bool bold = weight == diagram::Weight::bold;
  for (const bool matching : {true, false}) {
    for (std::size_t i = 0; i < given.fonts.size(); ++i) {
      const float found = hb_style_get_value(given.fonts[i].get(), HB_STYLE_TAG_WEIGHT);
      if (((found >= semibold) == bold) == matching) out.push_back(given_face(static_cast<int>(i)));
    }
  }
  return out;
}

}  // namespace

Result<FontSet> FontSet::create(std::vector<FontFile> files) {
  if (files.empty()) return FontSet();
  if (files.size() > most_fonts)
    return fail(fmt::format("{} fonts given, must be {} at most", files.size(), most_fonts));
  auto given = std::make_shared<GivenFonts>();
  given->files = std::move(files);
  for (const FontFile& file : given->files) {
    if (file.bytes.size() > largest_font)
      return fail(fmt::format("{}: is larger than {} MB", file.path, largest_font / 1'048'576));
    OwnedFont font = open_font(file.bytes);
    const std::string fault = fault_of(file.bytes, font.get());
    if (!fault.empty()) return fail(fmt::format("{}: {}", file.path, fault));
    given->fonts.push_back(std::move(font));
  }
  given->regular = order_with(*given, diagram::Weight::regular);
  given->bold = order_with(*given, diagram::Weight::bold);
  FontSet out;
  out.given_ = std::move(given);
  return out;
}

int FontSet::count() const {
  return built_in_faces + (given_ ? static_cast<int>(given_->fonts.size()) : 0);
}

const std::vector<Face>& FontSet::order(diagram::Weight weight) const {
  if (!given_) return built_in_order(weight);
  return weight == diagram::Weight::bold ? given_->bold : given_->regular;
}

}  // namespace linewright::drawing
