#include "documents/figures_account.hpp"

#include <algorithm>
#include <array>
#include <functional>
#include <map>

#include <fmt/core.h>

#include "documents/figures_words.hpp"
#include "documents/text_table.hpp"
#include "findings/json.hpp"

namespace linewright::documents {
namespace {

using figures::Figure;
using figures::What;

enum class Part { sources, boards, cables, loads };

Part part_of(const site::Site& site, const Figure& one) {
  if (one.about.run != site::none) return Part::cables;
  const site::Element& element = site.elements[one.about.element];
  if (site::facts<site::Busbar>(element) != nullptr) return Part::boards;
  return site::facts<site::LoadGroup>(element) != nullptr ? Part::loads : Part::sources;
}

/// Lines of one kind in one part, the worst state of each subject first met in the file.
struct Row {
  const Figure* worst = nullptr;
  std::vector<const Figure*> not_known;
};

bool worse(const Figure& a, const Figure& b) {
  if (strain_of(a) != strain_of(b)) return strain_of(a) > strain_of(b);
  return a.value && (!b.value || *a.value > *b.value);
}

std::vector<Row> rows_of(const site::Site& site, const std::vector<Figure>& all, Part part) {
  std::vector<Row> rows;
  std::map<std::tuple<std::size_t, std::size_t, What>, std::size_t> at;
  for (const Figure& one : all) {
    if (part_of(site, one) != part) continue;
    const auto [found, fresh] =
        at.emplace(std::tuple(one.about.element, one.about.run, one.what), rows.size());
    if (fresh) rows.emplace_back();
    Row& row = rows[found->second];
    const bool lacks = !lack_of(one).empty();
    if (lacks) row.not_known.push_back(&one);
    if (!lacks && (row.worst == nullptr || worse(one, *row.worst))) row.worst = &one;
  }
  std::ranges::stable_sort(rows, {}, [](const Row& row) {
    const figures::About& about = (row.worst != nullptr ? row.worst : row.not_known[0])->about;
    return std::pair(about.element, about.run);
  });
  return rows;
}

std::string part_text(const site::Site& site, const std::vector<Row>& rows) {
  std::vector<std::vector<std::string>> table{
      {"", "figure", "value", "limit", "left", "", "in the state"}};
  for (const Row& row : rows) {
    if (row.worst == nullptr) continue;
    const Figure& one = *row.worst;
    table.push_back({subject_of(site, one.about), words_of(one.what), words_of(one.value),
                     words_of(one.limit), margin_of(one), verdict_of(one),
                     site.states[one.state].name});
  }
  return table.size() > 1 ? text_table(table, 2) : std::string();
}

std::string not_known_text(const site::Site& site, const std::vector<Row>& rows) {
  std::string text;
  for (const Row& row : rows) {
    if (row.not_known.empty()) continue;
    std::string states;
    for (const Figure* one : row.not_known)
      states += (states.empty() ? "" : ", ") + site.states[one->state].name;
    const Figure& first = *row.not_known.front();
    text += fmt::format("  {}, {} ({}): not known, because {}\n", subject_of(site, first.about),
                        words_of(first.what), states, lack_of(first));
  }
  return text;
}

std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text)
    out += c == '"' ? "\"\"" : std::string(1, c);
  return out + "\"";
}

/// A number in amperes or as a share, for programs.
std::string number(const std::optional<figures::Amount>& amount) {
  if (!amount) return {};
  if (const auto* current = std::get_if<Current>(&*amount))
    return fmt::format("{:.6g}", current->in(unit::ampere));
  return fmt::format("{:.6g}", std::get<double>(*amount));
}

std::string unit_of(const Figure& one) {
  return one.what == What::drop || one.what == What::rise ? "share" : "A";
}

/// "grid, Ib ≤ In: 13 A, limit 16 A, left 3 A: holds".
std::string headline(const site::Site& site, const Figure& one) {
  std::string text = fmt::format("  {}, {}:", site.states[one.state].name, words_of(one.what));
  if (one.value) text += " " + words_of(one.value);
  if (one.limit) text += fmt::format("{} limit {}", one.value ? "," : "", words_of(one.limit));
  if (const std::string left = margin_of(one); !left.empty()) text += ", left " + left;
  if (const std::string verdict = verdict_of(one); !verdict.empty()) text += ": " + verdict;
  if (const std::string lack = lack_of(one); !lack.empty()) text += ", because " + lack;
  return text + "\n";
}

}  // namespace

std::string figures_text(const site::Site& site, const std::vector<Figure>& all) {
  constexpr std::array<std::pair<Part, const char*>, 4> parts{{{Part::sources, "Sources"},
                                                               {Part::boards, "Busbars"},
                                                               {Part::cables, "Cables"},
                                                               {Part::loads, "Circuits"}}};
  std::string text;
  std::string open;
  for (const auto& [part, title] : parts) {
    const std::vector<Row> rows = rows_of(site, all, part);
    const std::string table = part_text(site, rows);
    if (!table.empty()) text += fmt::format("{}{}\n{}", text.empty() ? "" : "\n", title, table);
    open += not_known_text(site, rows);
  }
  if (!open.empty()) text += fmt::format("{}Not known\n{}", text.empty() ? "" : "\n", open);
  return text.empty() ? "The file has nothing to work out.\n" : text;
}

std::string figures_worked(const site::Site& site, const std::vector<Figure>& all) {
  std::string text;
  figures::About last;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Figure& one = all[i];
    if (i == 0 || !(one.about == last))
      text += fmt::format("{}{}\n", i == 0 ? "" : "\n", subject_of(site, one.about));
    last = one.about;
    text += headline(site, one);
    for (const std::string* more : {&one.working, &one.source})
      if (!more->empty()) text += fmt::format("    {}\n", *more);
  }
  return text;
}

std::string figures_csv(const site::Site& site, const std::vector<Figure>& all) {
  // A subject begins with its kind, since spreadsheets take what begins with a sign for a formula.
  std::string text =
      "state,subject,figure,value,limit,unit,holds,working,source,not known because\r\n";
  for (const Figure& one : all) {
    const std::string kind = one.about.run != site::none ? "cable " : "element ";
    text += fmt::format("{},{},{},{},{},{},{},{},{},{}\r\n",
                        quoted("state " + site.states[one.state].name),
                        quoted(kind + subject_of(site, one.about)), quoted(words_of(one.what)),
                        number(one.value), number(one.limit), unit_of(one), quoted(verdict_of(one)),
                        quoted(one.working), quoted(one.source), quoted(lack_of(one)));
  }
  return text;
}

std::string figures_json(const site::Site& site, const std::vector<Figure>& all) {
  std::string text = "{\n  \"figures\": [";
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Figure& one = all[i];
    const std::string designation = one.about.run != site::none
                                        ? site.runs[one.about.run].designation
                                        : site.elements[one.about.element].designation;
    const std::string value = number(one.value);
    const std::string limit = number(one.limit);
    text += fmt::format(
        "{}\n    {{\"state\": {}, \"subject\": {}, \"figure\": {}, \"value\": {}, \"limit\": {}, "
        "\"unit\": \"{}\", \"verdict\": {}, \"working\": {}, \"source\": {}, \"missing\": [",
        i == 0 ? "" : ",", findings::json_string(site.states[one.state].name),
        findings::json_string(designation), findings::json_string(words_of(one.what)),
        value.empty() ? "null" : value, limit.empty() ? "null" : limit, unit_of(one),
        findings::json_string(verdict_of(one)), findings::json_string(one.working),
        findings::json_string(one.source));
    for (std::size_t m = 0; m < one.missing.size(); ++m)
      text += fmt::format("{}{{\"key\": {}, \"of\": {}}}", m == 0 ? "" : ", ",
                          findings::json_string(one.missing[m].key),
                          findings::json_string(one.missing[m].of));
    text += fmt::format("], \"why_not\": {}}}", findings::json_string(one.why_not));
  }
  return text + (all.empty() ? "]\n}\n" : "\n  ]\n}\n");
}

std::vector<Figure> figures_about(const site::Site& site, const std::vector<Figure>& all,
                                  const std::string& name) {
  const auto is = [&](const std::string& designation) {
    return designation == name || (!designation.empty() && designation.substr(1) == name);
  };
  // The circuit of a device: what hangs on its lower terminal without another device between.
  std::vector<std::size_t> elements;
  std::vector<std::size_t> runs;
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (is(site.elements[e].designation)) elements.push_back(e);
  for (std::size_t r = 0; r < site.runs.size(); ++r) {
    const site::Run& run = site.runs[r];
    const bool below = std::ranges::count(elements, run.from.element) > 0 &&
                       site::facts<site::Device>(site.elements[run.from.element]) != nullptr;
    if (!is(run.designation) && !below) continue;
    runs.push_back(r);
    if (below && site::facts<site::LoadGroup>(site.elements[run.to.element]) != nullptr)
      elements.push_back(run.to.element);
  }
  std::vector<Figure> some;
  for (const Figure& one : all)
    if (std::ranges::count(elements, one.about.element) + std::ranges::count(runs, one.about.run) >
        0)
      some.push_back(one);
  std::ranges::stable_sort(
      some, {}, [](const Figure& one) { return std::pair(one.about.element, one.about.run); });
  return some;
}

}  // namespace linewright::documents
