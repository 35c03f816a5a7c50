// The faces that lettering may be set in.
#pragma once

#include <cstdint>

namespace linewright::drawing {

/// A font in one weight: the built-in lettering, the built-in fallback for signs that it lacks, and
/// from `first_given` on the fonts of the user, in their order.
enum class Face : std::uint8_t { lettering, lettering_bold, fallback, fallback_bold, first_given };

/// How many faces are built in.
constexpr int built_in_faces = 4;

/// The font of the user with this index.
constexpr Face given_face(int index) {
  return static_cast<Face>(static_cast<int>(Face::first_given) + index);
}

}  // namespace linewright::drawing
