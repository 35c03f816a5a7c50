#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "input/nearest.hpp"
#include "input/read_parts.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"

namespace linewright::input {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// A day after ISO 8601, "2026-11-25".
std::string date(const Node* node, Mistakes& to) {
  std::string day = value_text(node, to).value_or("");
  if (day.empty()) return day;
  const auto number = [&](std::size_t from, std::size_t size) {
    int value = 0;
    for (std::size_t i = from; i < from + size; ++i)
      value = value * 10 + (day[i] - '0');
    return value;
  };
  bool good = day.size() == 10 && day[4] == '-' && day[7] == '-';
  for (const std::size_t i : {0U, 1U, 2U, 3U, 5U, 6U, 8U, 9U})
    good = good && is_digit(day[i]);
  good = good && number(5, 2) >= 1 && number(5, 2) <= 12 && number(8, 2) >= 1 && number(8, 2) <= 31;
  if (good) return day;
  to.add(node->where, fmt::format("{} is no date", quote(day)),
         "expected year-month-day, such as '2026-11-25'");
  return {};
}

void read_revisions(const Node* list, site::Title& title, Mistakes& to) {
  if (list == nullptr) return;
  if (!list->is_list())
    to.add(list->where, "'revisions' is a list", "begin each revision with '- '");
  for (const Node& node : list->items) {
    const Fields fields(node, revision_section, to);
    title.revisions.push_back({.index = text(fields.find("index"), to),
                               .date = date(fields.find("date"), to),
                               .change = text(fields.find("change"), to),
                               .by = text(fields.find("by"), to),
                               .approved = text(fields.find("approved"), to)});
  }
}

constexpr Choice<const char*> profiles[] = {{"international", "international"},
                                            {"GB", "GB"},
                                            {"DE", "DE"},
                                            {"FR", "FR"},
                                            {"AU", "AU"},
                                            {"NZ", "NZ"}};

using site::PaperFormat;
using site::PaperSize;
using site::PaperTurn;

constexpr Choice<PaperFormat> papers[] = {{"A3", {PaperSize::a3, PaperTurn::landscape}},
                                          {"A3 landscape", {PaperSize::a3, PaperTurn::landscape}},
                                          {"A3 portrait", {PaperSize::a3, PaperTurn::portrait}},
                                          {"A4", {PaperSize::a4, PaperTurn::portrait}},
                                          {"A4 portrait", {PaperSize::a4, PaperTurn::portrait}},
                                          {"A4 landscape", {PaperSize::a4, PaperTurn::landscape}}};

// The master and those terminated stand on the cable.
void check_on_cable(const Node* node, const std::vector<std::string>& devices, Mistakes& to) {
  if (node == nullptr) return;
  constexpr std::size_t most_known = 500;  // a hint need not look further
  const std::vector<std::string_view> known(
      devices.begin(),
      devices.begin() + static_cast<std::ptrdiff_t>(std::min(devices.size(), most_known)));
  const auto check = [&](const Node& item) {
    if (!item.is_scalar() || std::find(devices.begin(), devices.end(), item.text) != devices.end())
      return;
    to.add_unknown(item.where,
                   fmt::format("{} is not among this cable's devices", quote(item.text)), item.text,
                   known, "add it to 'devices'");
  };
  if (node->is_list())
    for (const Node& item : node->items)
      check(item);
  else
    check(*node);
}

}  // namespace

std::vector<std::string> texts(const Node* node, Mistakes& to) {
  std::vector<std::string> result;
  if (node == nullptr) return result;
  if (!node->is_list()) return {text(node, to)};
  for (const Node& item : node->items)
    result.push_back(text(&item, to));
  return result;
}

void read_title(Draft& draft, const Fields& root) {
  Mistakes& to = draft.mistakes;
  if (const Node* profile = root.find("profile")) {
    draft.site.profile = choice(profile, profiles, to).value_or("");
    draft.site.profile_where = profile->where;
  }
  const Node* node = root.find("site");
  if (node == nullptr) return;
  const Fields fields(*node, title_section, to);
  site::Title& title = draft.site.title;
  title.site_name = text(fields.find("name"), to);
  title.owner = text(fields.find("owner"), to);
  title.site_address = text(fields.find("address"), to);
  title.drawing_number = text(fields.find("drawing"), to);
  title.date = date(fields.find("date"), to);
  title.status = text(fields.find("status"), to);
  title.creator = text(fields.find("creator"), to);
  title.approver = text(fields.find("approver"), to);
  if (const Node* language = fields.find("language"))
    title.language = value_text(language, to).value_or("en");
  if (const Node* paper = fields.find("paper"))
    title.paper = choice(paper, papers, to).value_or(site::PaperFormat{});
  read_revisions(fields.find("revisions"), title, to);
  title.notes = texts(fields.find("notes"), to);
}

void read_signals(Draft& draft, const Fields& root) {
  Mistakes& to = draft.mistakes;
  const Node* list = root.find("signals");
  if (list == nullptr) return;
  if (!list->is_list())
    to.add(list->where, "'signals' is a list", "begin each signal cable with '- '");
  for (const Node& node : list->items) {
    const Fields fields(node, signal_section, to);
    site::SignalLink link;
    link.where = node.where;
    link.designation = text(fields.find("id"), to);
    link.kind = text(fields.find("kind"), to);
    link.protocol = text(fields.find("protocol"), to);
    link.devices = texts(fields.find("devices"), to);
    link.master = text(fields.find("master"), to);
    link.terminated_at = texts(fields.find("terminated at"), to);
    link.on_loss = text(fields.find("on loss"), to);
    check_on_cable(fields.find("master"), link.devices, to);
    check_on_cable(fields.find("terminated at"), link.devices, to);
    draft.site.signals.push_back(std::move(link));
  }
}

}  // namespace linewright::input
