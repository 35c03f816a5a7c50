// Speaks of inverters that run joined to the supply: whether they are made for the country's grid,
// and leave it as its code says. Settings are looked at one way: laxer than the code. What the code
// asks to stay connected through is not looked at.
#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "units/print.hpp"
#include "units/read.hpp"

namespace linewright::rules {
namespace {

// NOLINTBEGIN(bugprone-unchecked-optional-access): whoever calls has asked whether it is given.

using check::AnalysedSite;

/// Whether it runs joined to the supply in some state.
bool runs_in_parallel(const AnalysedSite& site, std::size_t inverter) {
  const std::size_t supply = check::supply_of(site);
  return std::ranges::any_of(site.states, [&](const network::StateView& state) {
    const network::Zone* zone = supply == site::none ? nullptr : state.zone_of(supply);
    return zone != nullptr && (std::ranges::count(zone->sources, inverter) > 0 ||
                               std::ranges::count(zone->following, inverter) > 0);
  });
}

template <class Q>
std::optional<Q> value(const check::Profile& profile, const std::string& key) {
  const Result<Q> read = read_quantity<Q>(profile.text(key));
  return read ? std::optional<Q>(*read) : std::nullopt;
}

std::vector<std::string> listed(std::string_view text) {
  std::vector<std::string> words;
  while (!text.empty()) {
    const std::size_t cut = std::min(text.find(", "), text.size());
    words.emplace_back(text.substr(0, cut));
    text.remove_prefix(std::min(cut + 2, text.size()));
  }
  return words;
}

class Judge {
 public:
  Judge(const AnalysedSite& site, std::size_t element, const site::Inverter& inverter)
      : site_(site),
        subject_(site.about(element)),
        name_(site.name(element)),
        inverter_(inverter),
        lines_((site.element(element).conductors & site::lines).count()) {}

  std::vector<Verdict> run() {
    judge_code();
    if (!inverter_.protection) {
      ask("'protection'");
    } else {
      if (inverter_.protection->certificate.empty()) ask("'certificate' under 'protection'");
      judge_settings(*inverter_.protection);
    }
    if (verdicts_.empty()) verdicts_.push_back(holds(subject_));
    return std::move(verdicts_);
  }

 private:
  void ask(const std::string& key) {
    verdicts_.push_back(open(subject_,
                             fmt::format("whether '{}' leaves a grid that is away", name_),
                             fmt::format("{} of '{}'", key, name_)));
  }
  void tell(std::string message, std::string mend) {
    verdicts_.push_back(broken(subject_, std::move(message), std::move(mend)));
  }

  void judge_code() {
    const std::string& code = inverter_.grid_code;
    if (code.empty()) return ask("'grid code'");
    const std::string_view wanted = site_.profile.text("grid codes");
    const std::vector<std::string> codes = listed(wanted);
    const bool known = codes.empty() || std::ranges::any_of(codes, [&](const std::string& each) {
                         return code.find(each) != std::string::npos;
                       });
    if (!known)
      return tell(fmt::format("'{}' is made for {}, this country asks for {}", name_, code, wanted),
                  "fit an inverter tested to the country's grid code, set to it");
    judge_size(code);
  }

  /// The code for small plants ends at a current per phase.
  void judge_size(const std::string& code) {
    const std::string_view small = site_.profile.text("grid code small");
    const std::optional<Current> limit = site_.profile.current("grid code small limit");
    if (small.empty() || !limit || code.find(small) == std::string::npos) return;
    if (!inverter_.power) return ask("'power'");
    if (!site_.site.system.line_to_earth || lines_ == 0) return;
    const Current each = inverter_.power->base / *site_.site.system.line_to_earth / lines_;
    if (each > *limit)
      tell(fmt::format("'{}' gives {} a phase, {} ends at {}", name_, print_rounded(each, 3), small,
                       print(*limit)),
           "have it tested and agreed by the code for larger plants");
  }

  enum class Bound { at_least, at_most };

  template <class Q>
  void judge_one(const std::optional<Q>& given, std::string_view key, const std::string& in_profile,
                 Bound bound) {
    const std::optional<Q> limit = value<Q>(site_.profile, in_profile);
    if (!limit) return;
    if (!given) return ask(fmt::format("'{}' under 'protection'", key));
    const bool lax = bound == Bound::at_least ? *given < *limit : *limit < *given;
    if (lax)
      tell(fmt::format("'{}': {} {}, must be at {} {}", name_, key, print(*given),
                       bound == Bound::at_least ? "least" : "most", print(*limit)),
           "set its protection as the country's grid code says");
  }

  template <class Q>
  void judge_trip(const site::TripSetting<Q>& setting, std::string_view key, Bound bound) {
    const std::string in_profile = fmt::format("interface {}", key);
    judge_one(setting.at, key, in_profile, bound);
    if (setting.at)
      judge_one(setting.within, fmt::format("{} time", key), in_profile + " time", Bound::at_most);
  }

  void judge_settings(const site::InterfaceProtection& protection) {
    judge_trip(protection.undervoltage, "undervoltage", Bound::at_least);
    judge_trip(protection.overvoltage, "overvoltage", Bound::at_most);
    judge_trip(protection.underfrequency, "underfrequency", Bound::at_least);
    judge_trip(protection.overfrequency, "overfrequency", Bound::at_most);
    judge_one(protection.island_detection, "detects island in", "interface island detection",
              Bound::at_most);
    judge_one(protection.reconnects_after, "reconnects after", "interface reconnection",
              Bound::at_least);
  }

  const AnalysedSite& site_;
  Subject subject_;
  const std::string& name_;
  const site::Inverter& inverter_;
  int lines_;
  std::vector<Verdict> verdicts_;
};

/// A relay and switch of its own, above the country's power.
void judge_relay(const AnalysedSite& site, const std::vector<std::size_t>& inverters,
                 std::vector<Verdict>& verdicts) {
  const std::optional<ApparentPower> limit =
      value<ApparentPower>(site.profile, "interface relay above");
  if (!limit || inverters.empty()) return;
  ApparentPower total{};
  bool fitted = false;
  bool not_said = false;
  for (const std::size_t e : inverters) {
    const auto* inverter = site::facts<site::Inverter>(site.element(e));
    total = total + inverter->power.value_or(ApparentPower{});
    const bool says = inverter->protection && inverter->protection->external_relay.has_value();
    fitted = fitted || (says && *inverter->protection->external_relay);
    not_said = not_said || !says;
  }
  if (!(total > *limit) || fitted) return;
  const Subject subject = site.about(inverters.front());
  if (not_said)
    verdicts.push_back(open(
        subject,
        fmt::format("whether a relay outside guards {} in parallel", print_rounded(total, 3)),
        fmt::format("'external relay' under 'protection' of '{}'", site.name(inverters.front()))));
  else
    verdicts.push_back(broken(subject,
                              fmt::format("{} in parallel without a relay outside, above {}",
                                          print_rounded(total, 3), print(*limit)),
                              "fit an external relay and switch at the connection"));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  std::vector<std::size_t> parallel;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* inverter = site::facts<site::Inverter>(site.element(e));
    if (inverter == nullptr || !runs_in_parallel(site, e)) continue;
    parallel.push_back(e);
    for (Verdict& verdict : Judge(site, e, *inverter).run())
      verdicts.push_back(std::move(verdict));
  }
  judge_relay(site, parallel, verdicts);
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

// NOLINTEND(bugprone-unchecked-optional-access)

}  // namespace

extern const check::Rule loss_of_mains_protection{
    .id = "transfer/loss-of-mains-protection",
    .severity = Severity::danger,
    .must_hold =
        "A source that runs in parallel with the supply leaves it as the country's grid code says, "
        "and waits before it comes back.",
    .why =
        "Without it the site and its neighbours go on as a live island that nobody expects, and "
        "meet the returning supply out of step.",
    .clauses = {"IEC 60364-5-55 551.7.4, 551.7.5", "EN 50549-1", "VDE-AR-N 4105", "EREC G98, G99",
                "AS/NZS 4777.2"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"grid codes", "grid code small", "grid code small limit",
                     "interface undervoltage", "interface undervoltage time",
                     "interface overvoltage", "interface overvoltage time",
                     "interface underfrequency", "interface underfrequency time",
                     "interface overfrequency", "interface overfrequency time",
                     "interface island detection", "interface reconnection",
                     "interface relay above"},
    .example = R"(# It comes back after five seconds; this country wants twenty.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
profile: GB
inverters:
  -T1:
    kind: pv
    power: 3.6 kVA
    grid code: G98
    protection: {certificate: TC-1, undervoltage: 184 V within 2.5 s, overvoltage: 262 V within 1 s, underfrequency: 47.5 Hz within 20 s,
      overfrequency: 52 Hz within 0.5 s, reconnects after: 5 s}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
chains:
  - [-T1:ac, -W2 3×2.5 mm² 9 m, -F1 B16 2P, A1]
)",
    .check = check_site,
};

}  // namespace linewright::rules
