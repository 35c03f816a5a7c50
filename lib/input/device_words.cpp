#include "input/device_words.hpp"

#include <algorithm>
#include <array>
#include <functional>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "input/nearest.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

using site::Device;
using site::DeviceKind;

// What the kind word says; the first eleven are switching and protective devices.
enum class Thing { device, meter, inlet, socket_outlet, spd, transformer, pen_split };

struct KindWord {
  std::string_view word;
  Thing thing;
  DeviceKind kind = DeviceKind::switch_disconnector;
};

constexpr std::array<KindWord, 20> kind_words{{
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
}};
constexpr std::array<KindWord, 2> more_kind_words{
    {{"SPD", Thing::spd}, {"transformer", Thing::transformer}}};

// What the words of one line say, before it is known what kind of thing they describe.
struct Said {
  std::optional<KindWord> kind;
  Device device;
  site::Residual residual;
  bool has_residual = false;
  std::optional<site::FeedDirection> direction;
  std::optional<std::string> rest;
  std::optional<ApparentPower> power;
  std::optional<Voltage> voltage;
  std::string surge_type;
};

class Line {
 public:
  Line(std::vector<Word> words, Mistakes& mistakes)
      : words_(std::move(words)), mistakes_(mistakes) {}

  bool at_end() const { return next_ >= words_.size(); }
  const Word& word() const { return words_[next_]; }
  std::string spelled(std::size_t ahead = 0) const {
    return next_ + ahead < words_.size() ? plain(words_[next_ + ahead].text) : "";
  }
  std::string raw(std::size_t ahead) const {
    return next_ + ahead < words_.size() ? words_[next_ + ahead].text : "";
  }
  void skip(std::size_t count = 1) { next_ += count; }
  Mistakes& mistakes() { return mistakes_; }

  /// Takes the phrase if the next words, spelled plainly, are just its words.
  bool take(std::string_view phrase) {
    const std::string wanted = plain(phrase);
    std::string found;
    for (std::size_t ahead = 0; next_ + ahead < words_.size(); ++ahead) {
      found += (ahead ? " " : "") + spelled(ahead);
      if (found == wanted) {
        skip(ahead + 1);
        return true;
      }
      if (found.size() >= wanted.size()) return false;
    }
    return false;
  }

 private:
  std::vector<Word> words_;
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

bool take_kind(Line& line, Said& said) {
  const Word first = line.word();
  const auto try_words = [&](const auto& table) {
    for (const KindWord& each : table)
      if (line.take(each.word)) {
        set_once(line, first, said.kind, each);
        return true;
      }
    return false;
  };
  return try_words(kind_words) || try_words(more_kind_words);
}

bool take_residual_type(Line& line, Said& said) {
  if (line.spelled() != "type") return false;
  using site::ResidualType;
  constexpr std::array<std::pair<std::string_view, ResidualType>, 4> types{
      {{"ac", ResidualType::ac},
       {"a", ResidualType::a},
       {"f", ResidualType::f},
       {"b", ResidualType::b}}};
  const std::string type = line.spelled(1);
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
  std::string_view words;
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
  for (const Phrase& phrase : phrases)
    if (line.take(phrase.words)) {
      phrase.set(said);
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
  line.mistakes().add(
      word.where, fmt::format("{} says nothing about a device", quote(word.text)),
      did_you_mean(word.text, device_vocabulary(), "see 'A device on one line' in the reference"));
  line.skip();
}

void default_throws(Device& device) {
  if (device.kind != DeviceKind::changeover) return;
  if (device.throws.empty()) device.throws = {{"I", "I"}, {"0", ""}, {"II", "II"}};
  const bool has_off = std::any_of(device.throws.begin(), device.throws.end(),
                                   [](const site::Throw& t) { return t.terminal.empty(); });
  device.rest = has_off ? "0" : "";  // without off only the file can say where it rests
}

std::optional<DeviceKind> kind_of(const Said& said, std::optional<DeviceKind> assumed) {
  const bool fuse_curve = said.device.curve.starts_with('g') || said.device.curve.starts_with('a');
  if (said.kind) {
    const bool breaker_with_rcd = said.kind->kind == DeviceKind::breaker && said.has_residual;
    return breaker_with_rcd ? DeviceKind::rcbo : said.kind->kind;
  }
  if (assumed) return assumed;
  if (!said.device.throws.empty()) return DeviceKind::changeover;
  if (fuse_curve) return DeviceKind::fuse;
  if (!said.device.curve.empty()) return said.has_residual ? DeviceKind::rcbo : DeviceKind::breaker;
  if (said.has_residual) return DeviceKind::rcd;
  return std::nullopt;
}

std::optional<site::Facts> device_facts(const Said& said, const Node& line, Mistakes& mistakes,
                                        std::optional<DeviceKind> assumed) {
  const std::optional<DeviceKind> kind = kind_of(said, assumed);
  if (!kind) {
    mistakes.add(line.where, fmt::format("{} does not say what it is", quote(line.text)),
                 "add its kind, such as 'breaker', 'RCD' or 'switch-disconnector'");
    return std::nullopt;
  }
  Device device = said.device;
  device.kind = *kind;
  device.direction = said.direction;
  device.rest = *kind == DeviceKind::contactor ? "open" : "closed";
  if (said.has_residual) device.residual = said.residual;
  if (!device.residual && (*kind == DeviceKind::rcd || *kind == DeviceKind::rcbo))
    device.residual.emplace();
  default_throws(device);
  if (*kind != DeviceKind::changeover && !device.throws.empty())
    mistakes.add(line.where, "positions such as I-0-II belong to a changeover",
                 "write 'changeover' or leave the positions out");
  if (said.rest) {
    device.rest = *said.rest;
    const bool numbered = *said.rest != "open" && *said.rest != "closed";
    if (numbered != (*kind == DeviceKind::changeover))
      mistakes.add(line.where,
                   fmt::format("'normally {}' is no position of this device", *said.rest),
                   "expected 'normally open', or 'normally 0' of a changeover");
  }
  return device;
}

std::optional<site::Facts> facts_of(const Said& said, const Node& line, Mistakes& mistakes,
                                    std::optional<DeviceKind> assumed) {
  switch (said.kind ? said.kind->thing : Thing::device) {
    case Thing::device:
      return device_facts(said, line, mistakes, assumed);
    case Thing::meter:
      return site::Meter{.two_way = said.direction == site::FeedDirection::two_way, .guards = {}};
    case Thing::inlet:
      return site::Connector{true, said.device.rated_current};
    case Thing::socket_outlet:
      return site::Connector{false, said.device.rated_current};
    case Thing::spd: {
      site::SurgeProtector spd;
      spd.type = said.surge_type;
      spd.continuous_voltage = said.voltage;
      return spd;
    }
    case Thing::transformer:
      return site::Transformer{said.power};
    case Thing::pen_split:
      return site::PenSplit{};
  }
  return std::nullopt;
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
    for (const KindWord& each : more_kind_words)
      all.push_back(each.word);
    for (const Phrase& each : phrases)
      all.push_back(each.words);
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
