#include "electrical/ampacity.hpp"

#include <array>

#include <fmt/core.h>

#include "electrical/table.hpp"

namespace linewright::electrical {
namespace {

constexpr std::array<std::string_view, 8> method_names{"A1", "A2", "B1", "B2", "C", "D1", "E", "F"};
constexpr std::size_t first_size = 4;

const std::vector<Row>& rows() {
  static const std::vector<Row> read = table("electrical/ampacity.csv");
  return read;
}

std::string_view name(Method method) {
  return method_names.at(static_cast<std::size_t>(method));
}

const Row* row_of(const CableKind& kind) {
  for (const Row& row : rows()) {
    if (row[0] == name(kind.method) && row[1] == short_name(kind.insulation) &&
        row[2] == short_name(kind.material) && number(row[3]) == kind.loaded)
      return &row;
  }
  return nullptr;
}

}  // namespace

Result<Current> tabulated_capacity(const CableKind& kind, Area cross_section) {
  const Row& sizes = rows().front();
  const Row* const row = row_of(kind);
  for (std::size_t i = first_size; row != nullptr && i + 1 < row->size(); ++i) {
    const auto size = number(sizes[i]);
    if (!size || !same_size(*size * unit::mm2, cross_section)) continue;
    if (const auto value = number((*row)[i])) return *value * unit::ampere;
  }
  return fail(
      fmt::format("IEC 60364-5-52 gives no capacity for {:g} mm² {} {}, method {}, {} loaded",
                  cross_section.in(unit::mm2), short_name(kind.material),
                  short_name(kind.insulation), name(kind.method), kind.loaded));
}

std::vector<Area> tabulated_sizes(const CableKind& kind) {
  std::vector<Area> found;
  const Row& sizes = rows().front();
  const Row* const row = row_of(kind);
  for (std::size_t i = first_size; row != nullptr && i + 1 < row->size(); ++i) {
    const auto size = number(sizes[i]);
    if (size && number((*row)[i])) found.push_back(*size * unit::mm2);
  }
  return found;
}

Result<Area> smallest_size(const CableKind& kind, Current tabulated) {
  for (const Area size : tabulated_sizes(kind)) {
    const auto capacity = tabulated_capacity(kind, size);
    if (capacity && *capacity >= tabulated) return size;
  }
  return fail(fmt::format("no size of method {} carries {:g} A", name(kind.method),
                          tabulated.in(unit::ampere)));
}

}  // namespace linewright::electrical
