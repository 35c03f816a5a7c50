#include <charconv>

#include "documents/checklist.hpp"
#include "documents/embedded.hpp"
#include "units/ensure.hpp"

namespace linewright::documents {
namespace {

// The cell up to the next ';', which is taken off the line with it.
std::string_view next_cell(std::string_view& line) {
  const std::size_t end = line.find(';');
  const std::string_view cell = line.substr(0, end);
  line.remove_prefix(end == std::string_view::npos ? line.size() : end + 1);
  return cell;
}

ChecklistItem item_of(std::string_view line) {
  ChecklistItem item;
  const std::string_view number = next_cell(line);
  std::from_chars(number.data(), number.data() + number.size(), item.number);
  item.group = next_cell(line);
  item.item = next_cell(line);
  item.asked_by = next_cell(line);
  item.where = next_cell(line);
  item.site_only = next_cell(line) == "yes";
  item.key = next_cell(line);
  item.example = next_cell(line);
  ENSURE(item.number > 0 && !item.where.empty());
  return item;
}

std::vector<ChecklistItem> read_items() {
  std::vector<ChecklistItem> items;
  std::string_view text = embedded_file("documents/permit-checklist.csv");
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (!line.empty() && line[0] != '#') items.push_back(item_of(line));
  }
  return items;
}

}  // namespace

std::span<const ChecklistItem> checklist_items() {
  static const std::vector<ChecklistItem> items = read_items();
  return items;
}

}  // namespace linewright::documents
