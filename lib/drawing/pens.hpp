// What lines and fills look like: the one place for widths, dashes and greys.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "diagram/sheet.hpp"

namespace linewright::drawing {

struct Colour {
  std::uint8_t red = 0;
  std::uint8_t green = 0;
  std::uint8_t blue = 0;

  friend bool operator==(const Colour&, const Colour&) = default;
};

/// How a line is drawn, lengths in mm.
struct Pen {
  double width = 0.35;
  Colour colour;
  std::vector<double> dash;  ///< lengths on and off; empty = continuous
  bool round_ends = true;

  friend bool operator==(const Pen&, const Pen&) = default;
};

constexpr Colour black{0x00, 0x00, 0x00};
constexpr Colour white{0xFF, 0xFF, 0xFF};

/// What a drawing is made with: greys, tints and the colours of sources, or black on white alone,
/// for copiers. Nothing depends on colour: widths, dashes and words say the same.
enum class Palette { colour, monochrome };

/// The pen of a stroke; live lines by the number of their source. Neighbouring numbers differ in
/// hue (for any colour vision) and in their dashes (for print without colour).
Pen pen_of(diagram::Stroke stroke, int source = 0, Palette palette = Palette::colour);

/// The radius of the corners of a box drawn with a stroke, in mm.
double corner_radius(diagram::Stroke stroke);

/// The colour of lettering; `none` is not drawn and gives white.
Colour lettering_colour(diagram::Ink ink, Palette palette = Palette::colour);

/// The colour of a fill; nothing where none is drawn, as tints in monochrome.
std::optional<Colour> fill_colour(diagram::Ink ink, Palette palette = Palette::colour);

}  // namespace linewright::drawing
