#include "drawing/cairo_faces.hpp"

#include <cstddef>

#include <cairo-ft.h>
#include <ft2build.h>
#include FT_FREETYPE_H

#include "drawing/fonts.hpp"

namespace linewright::drawing {
namespace {

using Library = std::shared_ptr<FT_LibraryRec_>;

// What a Cairo face owns: the FreeType face, and a share of the library and bytes it was made from.
struct OpenFace {
  Library library;
  FontSet fonts;
  FT_Face face = nullptr;
};

void close_face(void* data) {
  const std::unique_ptr<OpenFace> open(static_cast<OpenFace*>(data));
  FT_Done_Face(open->face);
}

cairo_user_data_key_t open_face_key;

cairo_font_face_t* open_face(const Library& library, const FontSet& fonts, Face face) {
  const std::string_view file = font_file(fonts, face);
  auto open = std::make_unique<OpenFace>();
  open->library = library;
  open->fonts = fonts;
  const auto* bytes = reinterpret_cast<const FT_Byte*>(file.data());
  if (FT_New_Memory_Face(library.get(), bytes, static_cast<FT_Long>(file.size()), 0, &open->face) !=
      0) {
    return nullptr;
  }
  cairo_font_face_t* out =
      cairo_ft_font_face_create_for_ft_face(open->face, FT_LOAD_NO_HINTING | FT_LOAD_NO_BITMAP);
  if (cairo_font_face_set_user_data(out, &open_face_key, open.get(), close_face) !=
      CAIRO_STATUS_SUCCESS) {
    cairo_font_face_destroy(out);
    FT_Done_Face(open->face);
    return nullptr;
  }
  open.release();  // NOLINT(bugprone-unused-return-value): Cairo owns it now
  return out;
}

}  // namespace

CairoFaces::~CairoFaces() {
  for (cairo_font_face_t* face : faces) {
    if (face != nullptr) cairo_font_face_destroy(face);
  }
}

Result<std::unique_ptr<CairoFaces>> open_cairo_faces(const FontSet& fonts) {
  FT_Library raw = nullptr;
  if (FT_Init_FreeType(&raw) != 0) return fail("FreeType does not start");
  const Library library(raw, [](FT_Library l) { FT_Done_FreeType(l); });
  auto out = std::make_unique<CairoFaces>();
  for (int i = 0; i < fonts.count(); ++i) {
    cairo_font_face_t* face = open_face(library, fonts, static_cast<Face>(i));
    if (face == nullptr) return fail("a font can not be opened");
    out->faces.push_back(face);
  }
  return out;
}

}  // namespace linewright::drawing
