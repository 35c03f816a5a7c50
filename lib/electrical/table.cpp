#include "electrical/table.hpp"

#include <charconv>

#include "electrical/embedded.hpp"
#include "units/ensure.hpp"

namespace linewright::electrical {
namespace {

/// Cuts off what stands before the next separator.
std::string_view cut(std::string_view& rest, char separator) {
  const std::size_t end = rest.find(separator);
  const std::string_view part = rest.substr(0, end);
  rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
  return part;
}

}  // namespace

std::vector<Row> table(std::string_view file) {
  std::string_view text = embedded_file(file);
  ENSURE(!text.empty());
  std::vector<Row> rows;
  while (!text.empty()) {
    std::string_view line = cut(text, '\n');
    if (line.empty() || line.front() == '#') continue;
    Row row;
    const bool ends_empty = line.back() == ';';
    while (!line.empty())
      row.push_back(cut(line, ';'));
    if (ends_empty) row.emplace_back();
    rows.push_back(std::move(row));
  }
  return rows;
}

std::optional<double> number(std::string_view cell) {
  double value = 0.0;
  const auto [stop, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (error != std::errc{} || stop != cell.data() + cell.size()) return std::nullopt;
  return value;
}

}  // namespace linewright::electrical
