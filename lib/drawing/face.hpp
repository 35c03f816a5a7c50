// The faces that lettering may be set in.
#pragma once

#include <cstdint>

#include "diagram/sheet.hpp"

namespace linewright::drawing {

/// The built-in fonts: the lettering, and for signs that it lacks the fallback, in two weights.
enum class Face : std::uint8_t { lettering, lettering_bold, fallback, fallback_bold };
constexpr int face_count = 4;

/// The lettering face, or its fallback, of a weight.
Face lettering_face(diagram::Weight weight);
Face fallback_face(diagram::Weight weight);

}  // namespace linewright::drawing
