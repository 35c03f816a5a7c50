// Speaks about the last RCD of a circuit that is fed through a frequency converter, a heat pump's
// included. Left to others: a type AC and a missing type (type-at-least-a); a lesser type where the
// maker asks for type B or states more than 6 mA of direct current (upstream-not-blinded, which
// speaks of every RCD that such current passes); an RCD that a heat pump shares
// (heatpump/rcd-type-declared). A motor of which the file does not say whether it has a converter
// is open; other equipment is asked only if it says `drive: yes` or names a type.

#include <algorithm>
#include <map>
#include <optional>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/residual_types.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

// NOLINTBEGIN(bugprone-unchecked-optional-access): whoever calls has asked whether it is given.

using check::AnalysedSite;
using site::ResidualType;

const site::LoadGroup& load_of(const AnalysedSite& site, const network::Loop& loop) {
  return std::get<site::LoadGroup>(site.element(loop.load).facts);
}

/// Asked: drives, what may be one, and whatever the maker names a type for.
bool asked(const site::LoadGroup& load) {
  if (load.use == site::Use::ev) return false;
  if (load.declared_rcd_type) return true;
  if (load.drive) return *load.drive;
  return load.use == site::Use::motor || load.use == site::Use::heat_pump;
}

/// More direct current than a type A or F stands, by the maker's word.
bool passes_much(const site::LoadGroup& load) {
  constexpr Current limit{0.006};
  constexpr double hair = 1e-9;  // 6 mA as read need not be 6 mA to the last bit
  if (load.dc_leakage) return *load.dc_leakage > limit * (1.0 + hair);
  return load.declared_rcd_type == ResidualType::b;
}

bool three_phase(const AnalysedSite& site, std::size_t load) {
  return (site.element(load).conductors & site::lines).count() == 3;
}

/// What the drive asks for: the maker's word; type B for a three-phase bridge without one.
std::optional<ResidualType> asked_by(const AnalysedSite& site, std::size_t load) {
  const auto& facts = std::get<site::LoadGroup>(site.element(load).facts);
  if (facts.declared_rcd_type) return facts.declared_rcd_type;
  const bool bridge = facts.drive == true && three_phase(site, load) && !facts.dc_leakage;
  return bridge ? std::optional(ResidualType::b) : std::nullopt;
}

/// Drives behind one RCD that ask for more than it is, over all states.
struct Short {
  std::vector<const network::StateView*> states;
  std::vector<std::size_t> loads;
  ResidualType wanted = ResidualType::ac;
};

template <class T>
void add_once(std::vector<T>& list, const T& item) {
  if (std::ranges::count(list, item) == 0) list.push_back(item);
}

Verdict undecided(const AnalysedSite& site, const network::StateView& state,
                  const network::Loop& loop, std::size_t rcd) {
  const std::string name = check::circuit_name(site, loop.load);
  const bool drive = load_of(site, loop).drive == true;
  return open(site.about(check::circuit_device(loop), &state),
              fmt::format("whether '{}' suits '{}'", site.name(rcd), name),
              drive ? fmt::format("what the maker of '{}' asks for (rcd type)", name)
                    : fmt::format("whether '{}' is fed through a converter (drive), and what its "
                                  "maker asks for (rcd type)",
                                  name));
}

Verdict broken_at(const AnalysedSite& site, const network::StateView& state, std::size_t rcd,
                  const Short& lacks) {
  Verdict verdict =
      broken(site.about(rcd, &state),
             fmt::format("'{}' is type {}, must be {} for {}", site.name(rcd),
                         check::letter(*check::residual(site, rcd)->type),
                         check::letter(lacks.wanted), check::circuits_in_words(site, lacks.loads)),
             "fit the type that the drive's maker asks for, in a circuit of its own");
  verdict.notes = check::circuit_notes(site, lacks.loads, "asks for it");
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  std::map<std::size_t, Short> too_little;
  for (const network::StateView& state : site.states)
    for (const network::Loop& loop : state.loops) {
      if (!asked(load_of(site, loop)) || loop.rcds.empty()) continue;
      const std::size_t rcd = loop.rcds.back().element;
      const Subject subject = site.about(rcd, &state);
      const auto type = check::residual(site, rcd)->type;
      const bool others = !type || *type == ResidualType::ac ||
                          (*type != ResidualType::b && passes_much(load_of(site, loop)));
      const auto wanted = asked_by(site, loop.load);
      if (others) {
        verdicts.push_back(not_relevant(subject));
      } else if (*type == ResidualType::b || (wanted && *type >= *wanted)) {
        verdicts.push_back(holds(subject));
      } else if (!wanted) {
        verdicts.push_back(undecided(site, state, loop, rcd));
      } else {
        Short& lacks = too_little[rcd];
        add_once(lacks.states, &state);
        add_once(lacks.loads, loop.load);
        lacks.wanted = std::max(lacks.wanted, *wanted);
      }
    }
  for (const auto& [rcd, lacks] : too_little)
    for (const network::StateView* state : lacks.states)
      verdicts.push_back(broken_at(site, *state, rcd, lacks));
  return verdicts;
}

// NOLINTEND(bugprone-unchecked-optional-access)

}  // namespace

extern const check::Rule type_for_variable_speed_drive{
    .id = "rcd/type-for-variable-speed-drive",
    .severity = Severity::breach,
    .must_hold =
        "The RCD of a drive is at least of the type that its maker asks for; without the maker's "
        "word that of a three-phase drive is type B.",
    .why =
        "The earth current of a drive has parts of many frequencies and of direct current: a "
        "lesser RCD is blinded by it, or trips without cause.",
    .clauses = {"IEC 60364-5-53 531.3.3", "BS 7671 531.3.3", "BS 7671 Table A53.1"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(site: {name: Three-phase drive on a type A}
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 5×16 mm² 3 m, -Q1 switch-disconnector 63 A 4P]
    circuits:
      - {id: -F1, name: Pump, device: C16 4P 30 mA type A 6 kA, cable: 5×2.5 mm² 12 m, use: motor, drive: yes}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
