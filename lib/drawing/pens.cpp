#include "drawing/pens.hpp"

namespace linewright::drawing {
namespace {

constexpr Colour grey{0x5E, 0x5E, 0x5E};
constexpr Colour pale{0xB0, 0xB0, 0xB0};
constexpr Colour tint{0xF5, 0xF6, 0xF8};

}  // namespace

// Widths are steps of ISO 128-2 but for 0.3 (symbols), which keeps them apart from the wires.
Pen pen_of(diagram::Stroke stroke) {
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
  }
  return {};
}

double corner_radius(diagram::Stroke stroke) {
  return stroke == diagram::Stroke::boundary ? 1.2 : 0.0;
}

Colour lettering_colour(diagram::Ink ink) {
  switch (ink) {
    case diagram::Ink::black:
      return black;
    case diagram::Ink::grey:
      return grey;
    case diagram::Ink::pale:
      return pale;
    case diagram::Ink::none:
      return white;
  }
  return black;
}

Colour fill_colour(diagram::Ink ink) {
  switch (ink) {
    case diagram::Ink::black:
      return black;
    case diagram::Ink::grey:
      return pale;
    case diagram::Ink::pale:
      return tint;
    case diagram::Ink::none:
      return white;
  }
  return white;
}

}  // namespace linewright::drawing
