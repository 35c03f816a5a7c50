#include "cli/material.hpp"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "cli/files.hpp"
#include "cli/output.hpp"

namespace linewright::cli {
namespace {

using Mistakes = std::vector<std::string>;

std::vector<drawing::SymbolFile> symbol_files(const std::string& folder, Mistakes& mistakes) {
  std::vector<drawing::SymbolFile> out;
  if (folder.empty()) return out;
  const auto paths = files_of(folder, ".svg", drawing::most_symbol_files);
  if (!paths) {
    mistakes.push_back(paths.error().message);
  } else if (paths->empty()) {
    mistakes.push_back(fmt::format("{}: holds no symbol, must hold SVG files", folder));
  }
  for (const std::string& path : paths.value_or(std::vector<std::string>{})) {
    Result<std::string> text = read_file(path, drawing::largest_symbol_file);
    if (text) {
      out.push_back({path, *std::move(text)});
    } else {
      mistakes.push_back(text.error().message);
    }
  }
  return out;
}

std::vector<drawing::FontFile> font_files(const std::vector<std::string>& paths,
                                          Mistakes& mistakes) {
  std::vector<drawing::FontFile> out;
  const std::size_t count = std::min(paths.size(), drawing::most_fonts + 1);
  for (std::size_t i = 0; i < count; ++i) {
    Result<std::string> bytes = read_file(paths[i], drawing::largest_font);
    if (bytes) {
      out.push_back({paths[i], *std::move(bytes)});
    } else {
      mistakes.push_back(bytes.error().message);
    }
  }
  return out;
}

}  // namespace

drawing::MaterialRead read_material(const std::string& symbols_folder,
                                    const std::vector<std::string>& fonts) {
  Mistakes mistakes;
  const std::vector<drawing::SymbolFile> symbols = symbol_files(symbols_folder, mistakes);
  drawing::MaterialRead out = drawing::read_material(symbols, font_files(fonts, mistakes));
  out.mistakes.insert(out.mistakes.begin(), mistakes.begin(), mistakes.end());
  return out;
}

bool read_material_for(const std::string& symbols_folder, const std::vector<std::string>& fonts,
                       drawing::Material& into) {
  drawing::MaterialRead read = read_material(symbols_folder, fonts);
  for (const std::string& mistake : read.mistakes)
    print_error(mistake + "\n");
  into = std::move(read.material);
  return read.mistakes.empty();
}

}  // namespace linewright::cli
