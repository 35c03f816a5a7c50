// Reading the tables that lie beside the sources as semicolon-separated text.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace linewright::electrical {

/// One line of a table, cut at its semicolons.
using Row = std::vector<std::string_view>;

/// The lines of a built-in table: first the names of the columns, then the data. Lines that begin
/// with # tell document, edition and status, and are left out.
std::vector<Row> table(std::string_view file);

/// The number in a cell; nothing if it is empty or no number.
std::optional<double> number(std::string_view cell);

}  // namespace linewright::electrical
