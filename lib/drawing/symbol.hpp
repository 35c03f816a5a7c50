// A symbol of the library: outlines, marks and connection points in millimetres from its origin.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "diagram/metrics.hpp"
#include "drawing/path.hpp"

namespace linewright::drawing {

/// The module of IEC 60617 drawings: connection points lie on multiples of it.
constexpr double module_mm = 2.5;

/// The families that symbols may be of, in the order of the review sheets.
constexpr std::array<std::string_view, 7> symbol_families{
    "conductors", "earthing", "switching", "protection", "sources", "measuring", "loads"};

/// What an outline is filled with. Paper hides the wires behind a symbol.
enum class Paint : std::uint8_t { none, ink, paper };

/// One outline of a symbol with the pen that draws it.
struct Outline {
  Path path;
  double width = 0.3;        ///< of the pen in mm; 0 = filled only
  std::vector<double> dash;  ///< lengths on and off in mm; empty = continuous
  bool round_ends = true;
  Paint fill = Paint::none;

  friend bool operator==(const Outline&, const Outline&) = default;
};

/// A mark inside a symbol: "G", "kWh". It stays upright when the symbol is turned.
struct SymbolText {
  diagram::Point at;  ///< middle of the baseline
  std::string text;
  double height = 1.8;  ///< nominal lettering height in mm

  friend bool operator==(const SymbolText&, const SymbolText&) = default;
};

/// What one file of `symbols/` holds. Ports are on the module grid, names are unique.
struct Symbol {
  std::string name;
  std::string title;        ///< what the legend calls it
  std::string description;  ///< one sentence on its meaning
  std::string family;       ///< "switching": where it stands on the review sheets; may be empty
  diagram::Rect canvas;     ///< the viewBox of its file
  std::vector<Outline> outlines;
  std::vector<SymbolText> texts;
  std::vector<diagram::Port> ports;
};

/// Symbols by name.
using SymbolLibrary = std::map<std::string, Symbol, std::less<>>;

}  // namespace linewright::drawing
