#include "input/cable_line.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "input/nearest.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

constexpr int most_cores = 8;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// Reads along the text of one cable.
class Cursor {
 public:
  explicit Cursor(std::string_view text) : rest_(text) { blanks(); }

  std::string_view rest() const { return rest_; }
  bool at_end() const { return rest_.empty(); }
  bool take(std::string_view text) {
    if (!rest_.starts_with(text)) return false;
    rest_.remove_prefix(text.size());
    blanks();
    return true;
  }
  bool take_times() { return take("×") || take("x") || take("X") || take("*"); }
  bool take_mm2() { return take("mm²") || take("mm2") || take("mm^2"); }
  std::string take_number() {
    std::size_t end = 0;
    while (end < rest_.size() && (is_digit(rest_[end]) || rest_[end] == '.'))
      ++end;
    std::string number(rest_.substr(0, end));
    rest_.remove_prefix(end);
    blanks();
    return number;
  }
  std::string take_word() {
    const std::size_t end = std::min(rest_.find_first_of(" \t"), rest_.size());
    std::string word(rest_.substr(0, end));
    rest_.remove_prefix(end);
    blanks();
    return word;
  }

 private:
  void blanks() {
    while (!rest_.empty() && (rest_[0] == ' ' || rest_[0] == '\t'))
      rest_.remove_prefix(1);
  }
  std::string_view rest_;
};

std::string_view without_designation(std::string_view text) {
  Cursor cursor(text);
  const std::string_view all = cursor.rest();
  const std::string first = cursor.take_word();
  return is_designation(first) ? cursor.rest() : all;
}

class CableReader {
 public:
  CableReader(const Node& node, Mistakes& mistakes)
      : node_(node), mistakes_(mistakes), cursor_(without_designation(node.text)) {}

  std::optional<CableLine> read() {
    const std::vector<Word> words = words_of(node_);
    line_.where = node_.where;
    if (!words.empty() && is_designation(words.front().text)) {
      line_.designation = words.front().text;
      line_.where = words.front().where;
    }
    line_.cable.written = cursor_.rest();
    begin();
    if (!read_cores()) return std::nullopt;
    while (!cursor_.at_end() && good_) {
      begin();
      read_word();
    }
    if (!good_) return std::nullopt;
    return line_;
  }

 private:
  /// What is read from here on is one thing to point at.
  void begin() { start_ = cursor_.rest().data(); }
  Place here() const {
    std::string_view piece(start_, static_cast<std::size_t>(cursor_.rest().data() - start_));
    while (piece.ends_with(' '))
      piece.remove_suffix(1);
    return place_in(node_, static_cast<std::size_t>(start_ - node_.text.data()), piece.size());
  }

  void report(std::string message, std::string mend) {
    good_ = false;
    mistakes_.add(here(), std::move(message), std::move(mend));
  }

  std::optional<Area> area(const std::string& number) {
    const Node node = scalar(number + " mm²", here());
    std::optional<Area> result = quantity<Area>(&node, mistakes_);
    if (!result) good_ = false;
    return result;
  }

  std::optional<int> cores(const std::string& number) {
    int value = 0;
    const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value);
    const bool whole = error == std::errc() && end == number.data() + number.size();
    if (whole && value >= 1 && value <= most_cores) return value;
    report(fmt::format("{} cores in {}", quote(number), quote(node_.text)),
           "expected 1 to 8 cores, such as '5×6 mm²'");
    return std::nullopt;
  }

  // cores × size, then "+ 1×16 mm²" or "+ 16 mm² PE", in any order of unit and plus sign.
  bool read_cores() {
    const std::optional<int> count = cores(cursor_.take_number());
    if (!count) return false;
    cursor_.take_times();
    line_.cores = *count;
    const std::string size = cursor_.take_number();
    bool has_unit = cursor_.take_mm2();
    while (good_ && cursor_.take("+"))
      has_unit = read_extra() || has_unit;
    if (!good_) return false;
    if (!has_unit) {
      report(fmt::format("{} has a size without unit", quote(node_.text)),
             "expected a cross-section such as '5×6 mm²'");
      return false;
    }
    line_.cable.cores = line_.cores;
    line_.cable.cross_section = area(size);
    return good_;
  }

  bool read_extra() {
    const std::string first = cursor_.take_number();
    if (cursor_.take_times()) {  // a smaller N, or PEN
      const std::optional<int> count = cores(first);
      if (!count) return false;
      line_.cores += *count;
      if (line_.cores > most_cores)
        report(fmt::format("{} cores in {}", line_.cores, quote(node_.text)),
               "expected 1 to 8 cores");
      area(cursor_.take_number());
      return cursor_.take_mm2();
    }
    const bool has_unit = cursor_.take_mm2();
    if (!cursor_.take("PE"))
      report(fmt::format("'+ {}' without 'PE' or cores in {}", first, quote(node_.text)),
             "write '+ 16 mm² PE' or '+ 1×16 mm²'");
    if (line_.separate_earth) report("the cable has two '+ … PE'", "keep one of the two");
    line_.separate_earth = true;
    line_.cable.earth_cross_section = area(first);
    return has_unit;
  }

  void read_word() {
    if (cursor_.take("(")) return read_conductors();
    if (is_digit(cursor_.rest()[0])) return read_length();
    const std::string word = cursor_.take_word();
    const std::string spelled = plain(word);
    if (spelled == "cu" || spelled == "copper") {
      line_.cable.material = "Cu";
    } else if (spelled == "al" || spelled == "aluminium") {
      line_.cable.material = "Al";
    } else if (spelled == "carries") {
      read_carries();
    } else if (spelled == "crossed") {
      read_crossed();
    } else if (spelled == "method") {
      line_.cable.method = cursor_.take_word();
      if (line_.cable.method.empty())
        report("'method' without its letter", "expected a reference method such as 'method C'");
    } else if ((spelled == "double" || spelled == "single") &&
               plain(Cursor(cursor_.rest()).take_word()) == "insulated") {
      cursor_.take_word();
      line_.cable.double_insulated = spelled == "double";
    } else if (spelled == "double insulated" || spelled == "single insulated") {
      line_.cable.double_insulated = spelled == "double insulated";
    } else {
      read_insulation(word);
    }
  }

  void read_carries() {
    std::string written = cursor_.take_number();
    const std::string unit = cursor_.take_word();
    if (!unit.empty()) written += " " + unit;
    const Node node = scalar(written, here());
    line_.cable.carries = quantity<Current>(&node, mistakes_);
    if (!line_.cable.carries) good_ = false;
  }

  void read_crossed() {
    site::Conductors crossed;
    for (int i = 0; i < 2; ++i)
      if (const std::optional<site::Conductor> one = conductor(cursor_.take_word()))
        crossed.add(*one);
    if (crossed.count() == 2 && (crossed & site::lines) == crossed)
      line_.cable.crossed = crossed;
    else
      report("'crossed' without two lines", "name the two, such as 'crossed L1 L2'");
  }

  void read_insulation(const std::string& word) {
    constexpr std::array<std::string_view, 6> insulations{"PVC",    "XLPE",    "EPR",
                                                          "rubber", "mineral", "silicone"};
    for (const std::string_view each : insulations)
      if (plain(each) == plain(word)) {
        line_.cable.insulation = each;
        return;
      }
    constexpr std::array<std::string_view, 14> known{"Cu",
                                                     "Al",
                                                     "PVC",
                                                     "XLPE",
                                                     "EPR",
                                                     "rubber",
                                                     "mineral",
                                                     "silicone",
                                                     "method",
                                                     "double insulated",
                                                     "single insulated",
                                                     "copper",
                                                     "carries",
                                                     "crossed"};
    good_ = false;
    mistakes_.add_unknown(here(), fmt::format("{} says nothing about a cable", quote(word)), word,
                          known, "expected cores × size, material, length, insulation, method");
  }

  void read_length() {
    if (line_.cable.length) return report("the cable has two lengths", "keep one of the two");
    std::string written = cursor_.take_number();
    const std::string unit = cursor_.take_word();
    if (!unit.empty()) written += " " + unit;
    const Node node = scalar(written, here());
    line_.cable.length = quantity<Length>(&node, mistakes_);
    if (!line_.cable.length) good_ = false;
  }

  void read_conductors() {
    const std::size_t end = cursor_.rest().find(')');
    if (end == std::string_view::npos) return report("'(' is not closed", "close it with ')'");
    const Node inside = scalar(std::string(cursor_.rest().substr(0, end)), node_.where);
    while (!cursor_.at_end() && !cursor_.take(")"))
      cursor_.take(cursor_.rest().substr(0, 1));
    site::Conductors conductors;
    for (const Word& word : words_of(inside)) {
      const std::optional<site::Conductor> one = conductor(word.text);
      if (!one)
        return report(fmt::format("{} is no conductor", quote(word.text)),
                      "expected L1 L2 L3 N PE PEN DC+ or DC-");
      conductors.add(*one);
    }
    const int counted = line_.cores + (line_.separate_earth ? 1 : 0);
    if (conductors.count() > counted)
      return report(fmt::format("{} conductors named for {} cores", conductors.count(), counted),
                    "name at most one conductor a core");
    line_.given = conductors;
  }

  static std::optional<site::Conductor> conductor(std::string_view word) {
    for (const site::Conductor each : site::all_conductors)
      if (site::mark(each) == word) return each;
    if (word == "L") return site::Conductor::l1;
    if (word == "DC-") return site::Conductor::dc_minus;
    return std::nullopt;
  }

  const Node& node_;
  Mistakes& mistakes_;
  Cursor cursor_;
  const char* start_ = nullptr;
  CableLine line_;
  bool good_ = true;
};

}  // namespace

bool is_cable(std::string_view text) {
  Cursor cursor(without_designation(text));
  return !cursor.take_number().empty() && cursor.take_times() && !cursor.rest().empty() &&
         is_digit(cursor.rest()[0]);
}

std::optional<CableLine> read_cable(const Node& node, Mistakes& mistakes) {
  if (!node.is_scalar() || !is_cable(node.text)) {
    mistakes.add(node.where,
                 node.is_scalar() ? fmt::format("{} is not a cable", quote(node.text))
                                  : "a cable is written on one line",
                 "expected cores × size, such as '5×6 mm² Cu 18 m'");
    return std::nullopt;
  }
  return CableReader(node, mistakes).read();
}

}  // namespace linewright::input
