// The same said in other words: units, signs, remarks, line ends.
#include <array>
#include <string>
#include <utility>

#include <fmt/core.h>

#include "input/emit.hpp"
#include "input/read.hpp"
#include "seeded/harmless_kinds.hpp"
#include "seeded/yaml_tree.hpp"

namespace linewright::tests {
namespace {

/// Writes `put` in place of `find`, one place at a time.
void at_each(const std::string& yaml, const PutText& put, std::string_view find,
             std::string_view instead) {
  for (const std::size_t at : offsets(yaml, find)) {
    std::string edited = yaml;
    edited.replace(at, find.size(), instead);
    put(line_of(yaml, at), std::move(edited), {});
  }
}

/// Writes it in place of every `find` at once.
void everywhere(const std::string& yaml, const PutText& put, std::string_view find,
                std::string_view instead) {
  std::string edited = replaced(yaml, find, instead);
  if (edited != yaml) put("everywhere", std::move(edited), {});
}

void length_in_centimetres(const std::string& yaml, const PutText& put) {
  for (const char* length : {"2", "5", "6", "9", "12", "30"})
    for (const char* after : {" ", ",", "]", "\n"})
      at_each(yaml, put, fmt::format(" {} m{}", length, after),
              fmt::format(" {}00 cm{}", length, after));
}

// "0.9 kA to 4.8 kA" as "900 A to 4800 A".
void fault_current_in_amperes(const std::string& yaml, const PutText& put) {
  const std::size_t at = yaml.find("fault current: ") + std::string_view("fault current: ").size();
  const std::size_t end = yaml.find('\n', at);
  const std::string value = yaml.substr(at, end - at);
  const std::size_t to = value.find(" kA to ");
  std::string edited = yaml;
  edited.replace(at, end - at,
                 fmt::format("{:.0f} A to {:.0f} A", 1000.0 * std::stod(value),
                             1000.0 * std::stod(value.substr(to + 7))));
  put(line_of(yaml, at), std::move(edited), {});
}

void square_in_digits(const std::string& yaml, const PutText& put) {
  std::string edited = yaml;
  for (std::size_t at = edited.find("mm²"); at != std::string::npos; at = edited.find("mm²"))
    edited.replace(at, std::string_view("mm²").size(), "mm2");
  put("everywhere", std::move(edited), {});
}

void cross_as_letter(const std::string& yaml, const PutText& put) {
  std::string edited = yaml;
  for (std::size_t at = edited.find("×"); at != std::string::npos; at = edited.find("×"))
    edited.replace(at, std::string_view("×").size(), "x");
  put("everywhere", std::move(edited), {});
}

void ohm_as_letter(const std::string& yaml, const PutText& put) {
  everywhere(yaml, put, "ohm", "Ω");
}

void power_in_watts(const std::string& yaml, const PutText& put) {
  everywhere(yaml, put, "1.5 kW", "1500 W");
  everywhere(yaml, put, "10 kVA", "10000 VA");
  everywhere(yaml, put, "2.2 kW", "2200 W");
}

void direction_in_two_words(const std::string& yaml, const PutText& put) {
  at_each(yaml, put, "two-way", "two way");
}

void switch_by_another_word(const std::string& yaml, const PutText& put) {
  at_each(yaml, put, "switch-disconnector", "isolator");
}

// Of a device's words the poles come first.
void poles_first(const std::string& yaml, const PutText& put) {
  for (const char* rest : {"B10", "B16", "C16", "C20", "C32", "C40", "C50", "C80"})
    for (const char* poles : {"1P+N", "2P", "3P", "4P"})
      at_each(yaml, put, fmt::format("{} {}", rest, poles), fmt::format("{} {}", poles, rest));
}

void remark_after_a_line(const std::string& yaml, const PutText& put) {
  std::size_t number = 0;
  for (const std::size_t at : offsets(yaml, "\n")) {
    if (++number % 5 != 0) continue;
    std::string edited = yaml;
    edited.insert(at, "  # looked at again");
    put(line_of(yaml, at), std::move(edited), {});
  }
}

void empty_lines(const std::string& yaml, const PutText& put) {
  std::string edited;
  for (const char c : yaml)
    edited += c == '\n' ? "\n\n" : std::string(1, c);
  put("everywhere", std::move(edited), {});
}

void spaces_at_line_ends(const std::string& yaml, const PutText& put) {
  std::string edited;
  for (const char c : yaml)
    edited += c == '\n' ? "  \n" : std::string(1, c);
  put("everywhere", std::move(edited), {});
}

void line_ends_of_another_system(const std::string& yaml, const PutText& put) {
  std::string edited;
  for (const char c : yaml)
    edited += c == '\n' ? "\r\n" : std::string(1, c);
  put("everywhere", std::move(edited), {});
}

bool is_designation(const std::string& text) {
  return text.size() > 2 && (text[0] == '-' || text[0] == '+') &&
         text.find(' ') == std::string::npos && text.find(':') == std::string::npos;
}

// "A1" for "+A1", "Q1" for "-Q1", where something is only referred to.
void signs_left_out(const std::string& yaml, const PutText& put) {
  const input::Node root = tree_of(yaml);
  walk(root, [&](const Path& path, const input::Node& node) {
    if (!node.is_scalar() || !is_designation(node.text) || path.empty()) return;
    const std::string where = words(root, path);
    const bool refers = where.find("proved by") != std::string::npos ||
                        where.find("driven by") != std::string::npos ||
                        where.find("synchronised") != std::string::npos ||
                        where.find("running") != std::string::npos ||
                        where.find("feeds") != std::string::npos;
    if (!refers) return;
    input::Node edited = root;
    at(edited, path).text.erase(0, 1);
    put(where, input::emit(edited), {});
  });
}

void written_out(const std::string& yaml, const PutText& put) {
  put("the whole", *input::show_expanded(yaml), {});
}

void written_anew(const std::string& yaml, const PutText& put) {
  put("the whole", input::emit(tree_of(yaml)), {});
}

constexpr std::array kinds{
    HarmlessKind{"length in centimetres", Adds::nothing, length_in_centimetres},
    HarmlessKind{"fault current in amperes", Adds::nothing, fault_current_in_amperes},
    HarmlessKind{"mm2 for mm²", Adds::nothing, square_in_digits},
    HarmlessKind{"x for ×", Adds::nothing, cross_as_letter},
    HarmlessKind{"Ω for ohm", Adds::nothing, ohm_as_letter},
    HarmlessKind{"power in watts", Adds::nothing, power_in_watts},
    HarmlessKind{"two way in two words", Adds::nothing, direction_in_two_words},
    HarmlessKind{"isolator for switch-disconnector", Adds::nothing, switch_by_another_word},
    HarmlessKind{"poles before the rating", Adds::nothing, poles_first},
    HarmlessKind{"a remark after a line", Adds::nothing, remark_after_a_line},
    HarmlessKind{"empty lines", Adds::nothing, empty_lines},
    HarmlessKind{"spaces at line ends", Adds::nothing, spaces_at_line_ends},
    HarmlessKind{"line ends of another system", Adds::nothing, line_ends_of_another_system},
    HarmlessKind{"signs left out of references", Adds::nothing, signs_left_out},
    HarmlessKind{"types and interiors written out", Adds::nothing, written_out},
    HarmlessKind{"the tree written anew", Adds::nothing, written_anew},
};

}  // namespace

std::span<const HarmlessKind> other_words() {
  return kinds;
}

}  // namespace linewright::tests
