#include "drawing/material.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include <fmt/core.h>

namespace linewright::drawing {
namespace {

constexpr std::size_t longest_name = 60;

// Names become ids in the files we write.
bool is_name(std::string_view name) {
  return !name.empty() && name.size() <= longest_name &&
         std::all_of(name.begin(), name.end(), [](char c) {
           return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
         });
}

std::string name_of(const SymbolFile& file) {
  const std::string name = file.path.substr(file.path.find_last_of('/') + 1);
  return name.substr(0, name.rfind('.'));
}

void add_symbol(const SymbolFile& file, std::set<std::string>& seen, MaterialRead& out) {
  const std::string name = name_of(file);
  if (!is_name(name)) {
    out.mistakes.push_back(
        fmt::format("{}: the name of a symbol has small letters, digits and hyphens only, up to {}",
                    file.path, longest_name));
    return;
  }
  if (!seen.insert(name).second) {
    out.mistakes.push_back(fmt::format("{}: the symbol '{}' is there twice", file.path, name));
    return;
  }
  SymbolLibrary& library = out.material.symbols;
  const auto built_in = library.find(name);
  SymbolResult symbol = parse_symbol(file, built_in == library.end() ? nullptr : &built_in->second);
  if (symbol) {
    library.insert_or_assign(name, *std::move(symbol));
  } else {
    out.mistakes.insert(out.mistakes.end(), symbol.error().begin(), symbol.error().end());
  }
}

}  // namespace

MaterialRead read_material(const std::vector<SymbolFile>& symbols, std::vector<FontFile> fonts) {
  MaterialRead out;
  std::set<std::string> seen;
  if (symbols.size() > most_symbol_files)
    out.mistakes.push_back(
        fmt::format("{} symbol files, must be {} at most", symbols.size(), most_symbol_files));
  for (std::size_t i = 0; i < std::min(symbols.size(), most_symbol_files); ++i)
    add_symbol(symbols[i], seen, out);
  Result<FontSet> set = FontSet::create(std::move(fonts));
  if (set) {
    out.material.fonts = *std::move(set);
  } else {
    out.mistakes.push_back(set.error().message);
  }
  return out;
}

}  // namespace linewright::drawing
