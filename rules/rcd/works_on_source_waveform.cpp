// Speaks of every inverter and generator that feeds an RCD while it forms the voltage. One verdict
// a source, since waveform is a property of it. Whether RCDs that need a voltage to trip still do
// so at its lowest voltage, only a test in island can show: it becomes a question.

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/residual_types.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

const std::string* waveform(const AnalysedSite& site, std::size_t source) {
  if (const auto* inverter = site::facts<site::Inverter>(site.element(source)))
    return &inverter->waveform;
  if (const auto* set = site::facts<site::Generator>(site.element(source))) return &set->waveform;
  return nullptr;
}

bool is_sine(const std::string& waveform) {
  constexpr std::string_view words[] = {"sine", "pure sine", "true sine", "sinusoidal"};
  std::string lower;
  for (const char c : waveform)
    lower += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return std::ranges::count(words, lower) > 0;
}

/// RCDs that one source feeds, over all states.
struct Fed {
  std::vector<const StateView*> states;
  std::vector<std::size_t> rcds;
};

template <class T>
void add_once(std::vector<T>& list, const T& item) {
  if (std::ranges::count(list, item) == 0) list.push_back(item);
}

std::map<std::size_t, Fed> fed_by_sources(const AnalysedSite& site) {
  std::map<std::size_t, Fed> all;
  for (const StateView& state : site.states)
    for (const network::Loop& loop : state.loops) {
      if (waveform(site, loop.source) == nullptr) continue;
      for (const network::RcdOnLoop& rcd : loop.rcds) {
        Fed& fed = all[loop.source];
        add_once(fed.states, &state);
        add_once(fed.rcds, rcd.element);
      }
    }
  return all;
}

/// Whether the maker has named an RCD type for what it feeds, and each of them is at least that.
bool declared_for_all(const AnalysedSite& site, std::size_t source, const Fed& fed) {
  const auto* inverter = site::facts<site::Inverter>(site.element(source));
  if (inverter == nullptr) return false;
  const auto declared = check::residual_type(inverter->island_rcd_type);
  return declared && std::ranges::all_of(fed.rcds, [&](std::size_t rcd) {
           const auto type = check::residual(site, rcd)->type;
           return type && *type >= *declared;
         });
}

Verdict judge(const AnalysedSite& site, std::size_t source, const Fed& fed,
              const StateView& state) {
  const Subject subject = site.about(source, &state);
  const std::string& name = site.name(source);
  const std::string& form = *waveform(site, source);
  if (form.empty())
    return open(subject, fmt::format("whether RCDs work on the voltage of '{}'", name),
                fmt::format("waveform of '{}' (waveform: sine)", name));
  if (is_sine(form) || declared_for_all(site, source, fed)) return holds(subject);
  Verdict verdict = broken(
      subject, fmt::format("'{}' makes '{}', must be sine for the RCDs that it feeds", name, form),
      "fit a source of sine voltage, or RCDs of a type that its maker names for it");
  for (const std::size_t rcd : fed.rcds)
    verdict.notes.push_back(
        {site.element(rcd).where, fmt::format("'{}' is fed by it", site.name(rcd))});
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const auto& [source, fed] : fed_by_sources(site))
    for (const StateView* state : fed.states) {
      verdicts.push_back(judge(site, source, fed, *state));
      const bool inverter = site::facts<site::Inverter>(site.element(source)) != nullptr;
      if (inverter && verdicts.back().outcome == Outcome::holds)
        verdicts.push_back(
            asks(site.about(source, state),
                 fmt::format("whether the RCDs that '{}' feeds trip at its lowest voltage",
                             site.name(source)),
                 "each trips by its tester within its time while this source feeds alone"));
    }
  return verdicts;
}

}  // namespace

extern const check::Rule works_on_source_waveform{
    .id = "rcd/works-on-source-waveform",
    .severity = Severity::breach,
    .must_hold =
        "RCDs that an inverter or generator feeds suit its waveform, frequency and voltage: it "
        "makes a sine, or its maker names the type of RCD that works on it.",
    .why =
        "Stepped and off-frequency voltages trip RCDs without a fault, or keep them from tripping.",
    .clauses = {"IEC 60364-5-55 551.4.3.3", "AS/NZS 4777.1", "AS/NZS 3000"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(site: {name: RCD on a stepped voltage}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
  +A2:
    feed: [-T1:backup, -W2 3×6 mm² 5 m]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A 6 kA, cable: 3×2.5 mm² 12 m, use: sockets}
inverters:
  -T1: {kind: battery, backup side: yes, power: 3 kVA, waveform: modified sine, neutral in island: opened, bond: closes in island, bond rest: open, no dc fault current: yes}
chains:
  - [A1, -F2 C20 2P 6 kA two-way, -W3 3×6 mm² 5 m, -T1:ac]
states:
  grid: {}
  island: {running: [-T1]}
)",
    .check = check,
};

}  // namespace linewright::rules
