// The account of the states for programs: comma-separated values and JSON.
#include <fmt/core.h>

#include "documents/states_account.hpp"
#include "findings/json.hpp"

namespace linewright::documents {
namespace {

/// How rows and cells of one part are introduced where they stand alone.
struct Words {
  std::string_view key;
  std::string_view row;
  std::string_view cell;
};

Words words_of(AccountPart part) {
  switch (part) {
    case AccountPart::switches:
      return {"switches", "switch", "at"};
    case AccountPart::sources:
      return {"sources", "source", "is"};
    case AccountPart::boards:
      return {"boards", "board", "by"};
    case AccountPart::bonds:
      return {"bonds", "bonds of what is fed by", "at"};
    case AccountPart::earthing:
      return {"earthing", "earthing of what is fed by", "is"};
    case AccountPart::rcds:
      return {"rcds", "circuit", "by"};
  }
  return {};
}

std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text)
    out += c == '"' ? "\"\"" : std::string(1, c);
  return out + "\"";
}

/// Spreadsheets take what begins with one of these for a formula.
bool looks_like_formula(const std::string& text) {
  return !text.empty() && std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos;
}

std::string said(std::string_view before, const std::string& text) {
  return quoted(looks_like_formula(text) ? fmt::format("{} {}", before, text) : text);
}

std::string json_row(const StatesAccount& account, AccountPart part, const AccountRow& row) {
  std::string text =
      fmt::format("      {{\"subject\": {}, \"name\": {}", findings::json_string(row.subject),
                  findings::json_string(row.name));
  if (part == AccountPart::rcds)
    text += fmt::format(", \"board\": {}, \"device\": {}", findings::json_string(row.group),
                        findings::json_string(row.device));
  text += ", \"states\": {";
  for (std::size_t s = 0; s < account.states.size(); ++s)
    text += fmt::format("{}{}: {}", s == 0 ? "" : ", ", findings::json_string(account.states[s]),
                        findings::json_string(row.cells[s]));
  return text + "}}";
}

}  // namespace

std::string account_csv(const StatesAccount& account) {
  std::string text = "part,subject,name,board";
  for (const std::string& state : account.states)
    text += "," + said("state", state);
  text += "\r\n";
  for (const AccountSection& section : account.sections) {
    const Words words = words_of(section.part);
    for (const AccountRow& row : section.rows) {
      text += fmt::format("{},{} {},{},{}", words.key, words.row, quoted(row.subject),
                          said("named", row.name), said("board", row.group));
      for (const std::string& cell : row.cells)
        text += "," + said(words.cell, cell);
      text += "\r\n";
    }
  }
  return text;
}

std::string account_json(const StatesAccount& account) {
  std::string text = fmt::format("{{\n  \"states\": {},\n", findings::json_strings(account.states));
  for (const AccountSection& section : account.sections) {
    text += fmt::format("  \"{}\": [", words_of(section.part).key);
    for (std::size_t r = 0; r < section.rows.size(); ++r)
      text += (r == 0 ? "\n" : ",\n") + json_row(account, section.part, section.rows[r]);
    text += section.rows.empty() ? "],\n" : "\n  ],\n";
  }
  text += fmt::format("  \"always_closed\": {},\n  \"always_open\": {},\n  \"not_known\": {}\n}}\n",
                      findings::json_strings(account.always_closed),
                      findings::json_strings(account.always_open),
                      findings::json_strings(account.not_known));
  return text;
}

}  // namespace linewright::documents
