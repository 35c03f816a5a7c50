#include "drawing/pens.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace linewright::drawing {
namespace {

constexpr Colour grey{0x5E, 0x5E, 0x5E};
constexpr Colour pale{0xB0, 0xB0, 0xB0};
constexpr Colour tint{0xF5, 0xF6, 0xF8};
constexpr Colour dead_grey{0x8C, 0x8C, 0x8C};
constexpr Colour amber{0xF6, 0xC8, 0x5C};
constexpr Colour vermilion{0xD5, 0x5E, 0x00};

// Hues that remain apart for every kind of colour vision (Okabe and Ito, Color Universal Design,
// 2008), the darker ones first.
constexpr std::array<Colour, 6> hues{{{0x00, 0x72, 0xB2},
                                      {0xD5, 0x5E, 0x00},
                                      {0x00, 0x9E, 0x73},
                                      {0xCC, 0x79, 0xA7},
                                      {0x56, 0xB4, 0xE9},
                                      {0xE6, 0x9F, 0x00}}};

// Four patterns for six hues: twelve sources differ in one or the other.
const std::array<std::vector<double>, 4> patterns{
    {{}, {2.6, 0.9}, {2.6, 0.7, 0.7, 0.7}, {0.9, 0.7}}};

Pen live_pen(double width, int source) {
  const auto index = static_cast<std::size_t>(source > 0 ? source - 1 : 0);
  return {width, hues[index % hues.size()], patterns[index % patterns.size()], false};
}

// Widths are steps of ISO 128-2 but for 0.3 (symbols), which keeps them apart from the wires.
Pen colour_pen(diagram::Stroke stroke, int source) {
  switch (stroke) {
    case diagram::Stroke::symbol:
      return {0.3, black, {}, true};
    case diagram::Stroke::wire:
      return {0.35, black, {}, true};
    case diagram::Stroke::busbar:
      return {1.0, black, {}, false};
    case diagram::Stroke::protective:
      return {0.35, black, {3.0, 1.0}, false};
    case diagram::Stroke::mechanical:
      return {0.25, black, {1.0, 0.75}, false};
    case diagram::Stroke::control:
      return {0.18, black, {}, true};
    case diagram::Stroke::boundary:
      return {0.3, grey, {5.0, 1.1, 0.8, 1.1}, false};
    case diagram::Stroke::frame:
      return {0.7, black, {}, false};
    case diagram::Stroke::rule:
      return {0.35, black, {}, false};
    case diagram::Stroke::hairline:
      return {0.18, pale, {}, false};
    case diagram::Stroke::zone:
      return {0.35, black, {}, false};
    case diagram::Stroke::live:
      return live_pen(0.8, source);
    case diagram::Stroke::live_bar:
      return live_pen(1.6, source);
    case diagram::Stroke::dead:
      return {0.25, dead_grey, {}, true};
    case diagram::Stroke::dead_bar:
      return {0.7, dead_grey, {}, false};
    case diagram::Stroke::undecided:
      return {0.5, black, {0.5, 0.9}, false};
    case diagram::Stroke::fault_out:
      return {0.35, black, {1.8, 0.7}, false};
    case diagram::Stroke::fault_home:
      return {0.35, black, {0.5, 0.6}, false};
    case diagram::Stroke::halo:
      return {3.2, amber, {}, true};
    case diagram::Stroke::tag:
      return {0.35, black, {}, true};
    case diagram::Stroke::flag:
      return {0.7, vermilion, {}, true};
    case diagram::Stroke::balloon:
      return {0.5, vermilion, {}, true};
    case diagram::Stroke::leader:
      return {0.35, vermilion, {}, true};
    case diagram::Stroke::cloud:
      return {0.5, vermilion, {}, true};
  }
  return {};
}

// Dashes alone must tell sources apart: full, long, dash and dot, dash and two dots, short, dots,
// long and short, three dashes and a gap.
const std::array<std::vector<double>, 8> black_patterns{{{},
                                                         {4.0, 1.2},
                                                         {3.0, 0.9, 0.7, 0.9},
                                                         {3.0, 0.9, 0.7, 0.9, 0.7, 0.9},
                                                         {1.6, 1.0},
                                                         {0.7, 0.9},
                                                         {4.0, 0.9, 1.6, 0.9},
                                                         {1.2, 0.5, 1.2, 0.5, 1.2, 1.8}}};

// Greys become black and thinner, so that they still stand back; a broad band becomes strokes
// across the line, or it would hide what it lies under.
Pen black_pen(diagram::Stroke stroke, int source) {
  Pen pen = colour_pen(stroke, source);
  pen.colour = black;
  switch (stroke) {
    case diagram::Stroke::live:
    case diagram::Stroke::live_bar:
      pen.dash =
          black_patterns[static_cast<std::size_t>(std::max(source, 1) - 1) % black_patterns.size()];
      break;
    case diagram::Stroke::boundary:
      pen.width = 0.25;
      break;
    case diagram::Stroke::hairline:
      pen.width = 0.13;
      break;
    case diagram::Stroke::dead:
      pen.width = 0.18;
      break;
    case diagram::Stroke::dead_bar:
      pen.width = 0.5;
      break;
    case diagram::Stroke::halo:
      pen.dash = {0.18, 1.4};
      pen.round_ends = false;
      break;
    default:
      break;
  }
  return pen;
}

}  // namespace

Pen pen_of(diagram::Stroke stroke, int source, Palette palette) {
  return palette == Palette::monochrome ? black_pen(stroke, source) : colour_pen(stroke, source);
}

double corner_radius(diagram::Stroke stroke) {
  if (stroke == diagram::Stroke::tag) return 1.8;
  if (stroke == diagram::Stroke::balloon) return 3.5;
  return stroke == diagram::Stroke::boundary || stroke == diagram::Stroke::flag ? 1.2 : 0.0;
}

Colour lettering_colour(diagram::Ink ink, Palette palette) {
  switch (ink) {
    case diagram::Ink::black:
      return black;
    case diagram::Ink::grey:
      return palette == Palette::monochrome ? black : grey;
    case diagram::Ink::pale:
      return palette == Palette::monochrome ? black : pale;
    case diagram::Ink::white:
    case diagram::Ink::none:
      return white;
  }
  return black;
}

std::optional<Colour> fill_colour(diagram::Ink ink, Palette palette) {
  const bool tints = palette == Palette::colour;
  switch (ink) {
    case diagram::Ink::black:
      return black;
    case diagram::Ink::grey:
      return tints ? std::optional(pale) : std::nullopt;
    case diagram::Ink::pale:
      return tints ? std::optional(tint) : std::nullopt;
    case diagram::Ink::white:
      return white;
    case diagram::Ink::none:
      return std::nullopt;
  }
  return std::nullopt;
}

}  // namespace linewright::drawing
