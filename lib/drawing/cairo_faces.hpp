// The fonts for Cairo, from memory. For sources of this folder only.
#pragma once

#include <memory>
#include <vector>

#include <cairo.h>

#include "drawing/font_set.hpp"
#include "units/result.hpp"

namespace linewright::drawing {

/// One Cairo face for each Face of a set, in its order. Cairo may hold a face for longer than we
/// do, so each face keeps what it needs alive by itself.
struct CairoFaces {
  std::vector<cairo_font_face_t*> faces;

  CairoFaces() = default;
  CairoFaces(const CairoFaces&) = delete;
  CairoFaces& operator=(const CairoFaces&) = delete;
  ~CairoFaces();
};

/// The faces, or why FreeType would not open them.
Result<std::unique_ptr<CairoFaces>> open_cairo_faces(const FontSet& fonts);

}  // namespace linewright::drawing
