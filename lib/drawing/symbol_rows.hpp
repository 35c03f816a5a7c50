// Symbols as a flat list of numbers and one of words, and back: the form they are built in as.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "drawing/symbol.hpp"

namespace linewright::drawing {

/// What `pack` writes.
struct PackedSymbols {
  std::vector<double> numbers;
  std::vector<std::string> words;
};

/// The symbols in flat form, in order of their names.
PackedSymbols pack(const SymbolLibrary& symbols);

/// The symbols again; the lists must be those of `pack`.
SymbolLibrary unpack(std::span<const double> numbers, std::span<const std::string_view> words);

/// The lists that the build made from `symbols/*.svg`; their source file is generated.
std::span<const double> symbol_numbers();
std::span<const std::string_view> symbol_words();

}  // namespace linewright::drawing
