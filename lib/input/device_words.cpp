#include "input/device_words.hpp"

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "input/nearest.hpp"
#include "input/said.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

using site::Device;
using site::DeviceKind;

// In the order of trying: longer phrases before the words that begin them.
constexpr std::array<KindWord, 22> kind_words{{
    {"switch disconnector", Thing::device, DeviceKind::switch_disconnector},
    {"fuse switch disconnector", Thing::device, DeviceKind::fuse_switch},
    {"fuse switch", Thing::device, DeviceKind::fuse_switch},
    {"socket outlet", Thing::socket_outlet},
    {"PEN split", Thing::pen_split},
    {"main switch", Thing::device, DeviceKind::switch_disconnector},
    {"transfer switch", Thing::device, DeviceKind::changeover},
    {"breaker", Thing::device, DeviceKind::breaker},
    {"MCB", Thing::device, DeviceKind::breaker},
    {"RCD", Thing::device, DeviceKind::rcd},
    {"RCBO", Thing::device, DeviceKind::rcbo},
    {"fuse", Thing::device, DeviceKind::fuse},
    {"switch", Thing::device, DeviceKind::switch_disconnector},
    {"isolator", Thing::device, DeviceKind::switch_disconnector},
    {"disconnector", Thing::device, DeviceKind::disconnector},
    {"contactor", Thing::device, DeviceKind::contactor},
    {"changeover", Thing::device, DeviceKind::changeover},
    {"link", Thing::device, DeviceKind::link},
    {"meter", Thing::meter},
    {"inlet", Thing::inlet},
    {"SPD", Thing::spd},
    {"transformer", Thing::transformer},
}};

// The words of a line, taken from its front.
class Line {
 public:
  Line(std::vector<Word> words, Mistakes& mistakes)
      : words_(std::move(words)), mistakes_(mistakes) {
    for (const Word& word : words_)
      plain_.push_back(plain(word.text));
  }

  bool at_end() const { return next_ >= words_.size(); }
  std::size_t taken() const { return next_; }
  const Word& word() const { return words_[next_]; }
  std::string_view spelled(std::size_t ahead = 0) const {
    return next_ + ahead < words_.size() ? std::string_view(plain_[next_ + ahead]) : "";
  }
  std::string raw(std::size_t ahead) const {
    return next_ + ahead < words_.size() ? words_[next_ + ahead].text : "";
  }
  void skip(std::size_t count = 1) { next_ += count; }
  Mistakes& mistakes() { return mistakes_; }

  /// Takes the phrase, given in plain spelling, if the next words are just its words.
  bool take(std::string_view wanted) {
    std::size_t ahead = 0;
    while (!wanted.empty()) {
      const std::string_view word = spelled(ahead);
      if (word.empty() || !wanted.starts_with(word)) return false;
      wanted.remove_prefix(word.size());
      if (!wanted.empty() && wanted[0] != ' ') return false;
      if (!wanted.empty()) wanted.remove_prefix(1);
      ++ahead;
    }
    skip(ahead);
    return true;
  }

 private:
  std::vector<Word> words_;
  std::vector<std::string> plain_;
  std::size_t next_ = 0;
  Mistakes& mistakes_;
};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::optional<site::Poles> poles_of(std::string_view word) {
  std::string upper(word);
  std::transform(upper.begin(), upper.end(), upper.begin(), [](char c) {
    return c == 'p' || c == 'n' ? static_cast<char>(c - 'a' + 'A') : c;
  });
  if (upper == "1P") return site::Poles{1, false, upper};
  if (upper == "1P+N" || upper == "2P") return site::Poles{1, true, upper};
  if (upper == "3P") return site::Poles{3, false, upper};
  if (upper == "3P+N" || upper == "4P") return site::Poles{3, true, upper};
  return std::nullopt;
}

template <class T>
void set_once(Line& line, const Word& word, std::optional<T>& target, T value) {
  if (target)
    line.mistakes().add(word.where, fmt::format("{} says again what was said", quote(word.text)),
                        "keep one of the two");
  target = std::move(value);
}

// The plain spellings of a table's words, made once.
template <class Table>
std::vector<std::string> spellings(const Table& table) {
  std::vector<std::string> result;
  for (const auto& each : table)
    result.push_back(plain(each.word));
  return result;
}

bool take_kind(Line& line, Said& said) {
  static const std::vector<std::string> plain_words = spellings(kind_words);
  const Word first = line.word();
  for (std::size_t i = 0; i < kind_words.size(); ++i) {
    if (!line.take(plain_words[i])) continue;
    set_once(line, first, said.kind, kind_words[i]);
    return true;
  }
  return false;
}

bool take_residual_type(Line& line, Said& said) {
  if (line.spelled() != "type") return false;
  using site::ResidualType;
  constexpr std::array<std::pair<std::string_view, ResidualType>, 4> types{
      {{"ac", ResidualType::ac},
       {"a", ResidualType::a},
       {"f", ResidualType::f},
       {"b", ResidualType::b}}};
  const std::string_view type = line.spelled(1);
  for (const auto& [word, value] : types) {
    if (type != word) continue;
    set_once(line, line.word(), said.residual.type, value);
    said.has_residual = true;
    line.skip(2);
    return true;
  }
  if (type.starts_with("t") && type.size() > 1 && is_digit(type[1])) {
    said.surge_type = line.raw(1);
    line.skip(2);
    return true;
  }
  return false;
}

// Phrases without a value, each with what it sets.
struct Phrase {
  std::string_view word;
  void (*set)(Said&);
};
constexpr std::array<Phrase, 24> phrases{{
    {"S",
     [](Said& s) {
       s.residual.delay = site::ResidualDelay::selective;
       s.has_residual = true;
     }},
    {"selective",
     [](Said& s) {
       s.residual.delay = site::ResidualDelay::selective;
       s.has_residual = true;
     }},
    {"general",
     [](Said& s) {
       s.residual.delay = site::ResidualDelay::general;
       s.has_residual = true;
     }},
    {"one way", [](Said& s) { s.direction = site::FeedDirection::one_way; }},
    {"two way", [](Said& s) { s.direction = site::FeedDirection::two_way; }},
    {"normally open", [](Said& s) { s.rest = "open"; }},
    {"normally closed", [](Said& s) { s.rest = "closed"; }},
    {"normally 0", [](Said& s) { s.rest = "0"; }},
    {"normally I", [](Said& s) { s.rest = "I"; }},
    {"normally II", [](Said& s) { s.rest = "II"; }},
    {"by hand", [](Said& s) { s.device.operation = site::Operation::hand; }},
    {"by controller", [](Said& s) { s.device.operation = site::Operation::controller; }},
    {"by both", [](Said& s) { s.device.operation = site::Operation::both; }},
    {"latching", [](Said& s) { s.device.latching = true; }},
    {"with feedback", [](Said& s) { s.device.feedback = true; }},
    {"isolating", [](Said& s) { s.device.isolates = true; }},
    {"lockable", [](Said& s) { s.device.lockable = true; }},
    {"neutral simultaneous",
     [](Said& s) { s.device.neutral_timing = site::NeutralTiming::simultaneous; }},
    {"neutral early",
     [](Said& s) { s.device.neutral_timing = site::NeutralTiming::early_make_late_break; }},
    {"neutral separate", [](Said& s) { s.device.neutral_timing = site::NeutralTiming::separate; }},
    {"gG", [](Said& s) { s.device.curve = "gG"; }},
    {"aM", [](Said& s) { s.device.curve = "aM"; }},
    {"gPV", [](Said& s) { s.device.curve = "gPV"; }},
    {"gR", [](Said& s) { s.device.curve = "gR"; }},
}};

bool take_phrase(Line& line, Said& said) {
  static const std::vector<std::string> plain_words = spellings(phrases);
  for (std::size_t i = 0; i < phrases.size(); ++i) {
    if (!line.take(plain_words[i])) continue;
    phrases[i].set(said);
    return true;
  }
  return false;
}

bool take_throws(Line& line, Said& said) {
  std::string_view text = line.word().text;
  std::vector<site::Throw> throws;
  while (true) {
    const std::size_t end = text.find('-');
    const std::string position(text.substr(0, end));
    if (position != "I" && position != "II" && position != "III" && position != "0") return false;
    throws.push_back({position, position == "0" ? "" : position});
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  if (throws.size() < 2) return false;
  said.device.throws = std::move(throws);
  line.skip();
  return true;
}

template <class Q>
void take_quantity(Line& line, const Word& word, const std::string& written,
                   std::optional<Q>& target) {
  const Node node = scalar(written, word.where);
  if (std::optional<Q> value = quantity<Q>(&node, line.mistakes()))
    set_once(line, word, target, *value);
}

// A number with its unit, in one word or two: the unit says what is rated.
bool take_rating(Line& line, Said& said) {
  Word word = line.word();
  if (!is_digit(word.text[0])) return false;
  const bool names_poles = word.text.size() > 1 && (word.text[1] == 'P' || word.text[1] == 'p');
  if (names_poles) return false;
  const bool glued = !std::all_of(word.text.begin(), word.text.end(),
                                  [](char c) { return is_digit(c) || c == '.' || c == ','; });
  if (!glued && !line.raw(1).empty() && !is_digit(line.raw(1)[0])) {
    const std::string unit = line.raw(1);
    word.where.length += 1 + static_cast<int>(unit.size());
    word.text += " " + unit;
    line.skip();
  }
  line.skip();
  const auto ends = [&](std::string_view unit) {
    return word.text.size() > unit.size() && word.text.ends_with(unit) &&
           (is_digit(word.text[word.text.size() - unit.size() - 1]) ||
            word.text[word.text.size() - unit.size() - 1] == ' ');
  };
  if (ends("mA") && line.spelled() == "dc") {
    said.residual.dc_detection_6ma = true;
    said.has_residual = true;
    line.skip();
  } else if (ends("mA")) {
    take_quantity(line, word, word.text, said.residual.operating_current);
    said.has_residual = true;
  } else if (ends("kA")) {
    take_quantity(line, word, word.text, said.device.breaking_capacity);
  } else if (ends("kVA") || ends("VA")) {
    take_quantity(line, word, word.text, said.power);
  } else if (ends("V")) {
    take_quantity(line, word, word.text, said.voltage);
  } else {
    take_quantity(line, word, word.text, said.device.rated_current);
  }
  return true;
}

bool take_curve(Line& line, Said& said) {
  const Word word = line.word();
  if (!is_curve(word.text)) return false;
  said.device.curve = word.text.substr(0, 1);
  take_quantity(line, word, word.text.substr(1) + " A", said.device.rated_current);
  line.skip();
  return true;
}

bool take_poles(Line& line, Said& said) {
  const std::optional<site::Poles> poles = poles_of(line.word().text);
  if (!poles) return false;
  set_once(line, line.word(), said.device.poles, *poles);
  line.skip();
  return true;
}

void take_word(Line& line, Said& said) {
  if (take_kind(line, said) || take_residual_type(line, said) || take_phrase(line, said) ||
      take_throws(line, said) || take_curve(line, said) || take_poles(line, said) ||
      take_rating(line, said))
    return;
  const Word& word = line.word();
  const bool meant_type = word.text.size() == 3 && line.spelled().starts_with("t");
  line.mistakes().add_unknown(
      word.where, fmt::format("{} says nothing about a device", quote(word.text)), word.text,
      device_vocabulary(), "see 'A device on one line' in the reference");
  line.skip(meant_type ? 2 : 1);  // the letter of a misspelt "type A" is no second mistake
}

}  // namespace

bool is_curve(std::string_view word) {
  return word.size() >= 2 && word.size() <= 4 &&
         std::string_view("BCDKZ").find(word[0]) != std::string_view::npos &&
         std::all_of(word.begin() + 1, word.end(), is_digit);
}

std::span<const std::string_view> device_vocabulary() {
  static const std::vector<std::string_view> words = [] {
    std::vector<std::string_view> all{"type AC", "type A", "type F", "type B", "1P",
                                      "1P+N",    "2P",     "3P",     "3P+N",   "4P"};
    for (const KindWord& each : kind_words)
      all.push_back(each.word);
    for (const Phrase& each : phrases)
      all.push_back(each.word);
    return all;
  }();
  return words;
}

std::optional<DeviceLine> read_device_words(const Node& node, Mistakes& mistakes,
                                            std::optional<DeviceKind> assumed) {
  std::vector<Word> words = words_of(node);
  DeviceLine device;
  device.where = node.where;
  if (!words.empty() && is_designation(words.front().text)) {
    device.designation = words.front().text;
    device.where = words.front().where;
    words.erase(words.begin());
  }
  Line line(std::move(words), mistakes);
  Said said;
  while (!line.at_end())
    take_word(line, said);
  std::optional<site::Facts> facts = facts_of(said, node, mistakes, assumed);
  if (!facts) return std::nullopt;
  device.facts = std::move(*facts);
  return device;
}

namespace {

// What a set of said things is about, asked of one phrase read alone.
Aspect aspect_of(const Said& said) {
  if (said.kind) return Aspect::kind;
  if (said.residual.dc_detection_6ma) return Aspect::dc_detection;
  if (said.residual.operating_current) return Aspect::residual_current;
  if (said.residual.type) return Aspect::residual_type;
  if (said.residual.delay) return Aspect::delay;
  if (said.direction) return Aspect::direction;
  if (said.rest) return Aspect::rest;
  if (said.device.poles) return Aspect::poles;
  if (!said.device.throws.empty()) return Aspect::throws;
  if (said.device.breaking_capacity) return Aspect::breaking_capacity;
  if (said.device.neutral_timing) return Aspect::neutral_timing;
  if (said.device.operation) return Aspect::operation;
  if (said.device.rated_current) return Aspect::rating;
  return said.device.curve.empty() ? Aspect::other : Aspect::curve;
}

}  // namespace

std::vector<SaidPhrase> phrases_of(const Node& node) {
  std::vector<Word> words = words_of(node);
  const bool named = !words.empty() && is_designation(words.front().text);
  if (named) words.erase(words.begin());
  Mistakes unheard;
  Line line(words, unheard);
  std::vector<SaidPhrase> found;
  while (!line.at_end()) {
    const std::size_t first = line.taken();
    Said said;
    take_word(line, said);
    found.push_back({aspect_of(said), words[first], words[line.taken() - 1]});
  }
  return found;
}

std::optional<site::Device> read_fuse(const Node& line, Mistakes& mistakes) {
  const std::optional<DeviceLine> read = read_device(line, mistakes, DeviceKind::fuse);
  if (!read) return std::nullopt;
  const auto* device = std::get_if<Device>(&read->facts);
  if (device != nullptr && device->kind == DeviceKind::fuse) return *device;
  mistakes.add(line.where, fmt::format("{} is not a fuse", quote(line.text)),
               "expected a fuse such as '63 A gG'");
  return std::nullopt;
}

}  // namespace linewright::input
