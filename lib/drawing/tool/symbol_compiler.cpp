// symbol_compiler OUT.cpp FILE.svg…: turns the symbol files into the C++ lists that are built in.
// It stops the build at a file that is not a symbol, naming file and line.
#include <charconv>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/core.h>

#include "drawing/symbol_file.hpp"
#include "drawing/symbol_rows.hpp"

namespace {

using namespace linewright;

drawing::SymbolResult read(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  if (!file) return tl::unexpected(std::vector<std::string>{path + ": cannot be read"});
  return drawing::parse_symbol({path, text});
}

std::string shortest(double value) {
  char buffer[32];
  const auto end = std::to_chars(buffer, buffer + sizeof buffer, value == 0.0 ? 0.0 : value).ptr;
  return {buffer, end};
}

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c == '\n' || c == '\r' ? ' ' : c;
  }
  return out + '"';
}

std::string source(const drawing::PackedSymbols& packed) {
  std::string out =
      "// Generated from symbols/*.svg.\n#include \"drawing/symbol_rows.hpp\"\n\n"
      "namespace linewright::drawing {\nnamespace {\n\nconstexpr double numbers[] = {";
  for (std::size_t i = 0; i < packed.numbers.size(); ++i) {
    out += i % 16 == 0 ? "\n    " : " ";
    out += shortest(packed.numbers[i]) + ",";
  }
  out += "\n};\n\nconstexpr std::string_view words[] = {\n";
  for (const std::string& word : packed.words)
    out += "    " + quoted(word) + ",\n";
  out +=
      "};\n\n}  // namespace\n\nstd::span<const double> symbol_numbers() { return numbers; }\n"
      "std::span<const std::string_view> symbol_words() { return words; }\n\n"
      "}  // namespace linewright::drawing\n";
  return out;
}

}  // namespace

int main(int argument_count, char** arguments) {
  drawing::SymbolLibrary symbols;
  bool sound = argument_count > 2;
  for (int i = 2; i < argument_count; ++i) {
    drawing::SymbolResult symbol = read(arguments[i]);
    if (!symbol) {
      for (const std::string& mistake : symbol.error())
        fmt::print(stderr, "{}\n", mistake);
      sound = false;
      continue;
    }
    const std::string name = symbol->name;
    symbols.emplace(name, *std::move(symbol));
  }
  if (!sound) return 1;
  std::ofstream out(arguments[1], std::ios::binary);
  out << source(drawing::pack(symbols));
  out.close();
  return out ? 0 : 1;
}
