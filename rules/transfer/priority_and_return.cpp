// Speaks of devices that transfer between sources by themselves: whether it is said which source
// comes first, when a source is left and taken again, and how long a better one must have been
// back.
#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rule.hpp"
#include "check/transfer_devices.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

Verdict undecided(const AnalysedSite& site, const check::TransferDevice& transfer,
                  std::string_view key) {
  const std::string& name = site.name(transfer.element);
  return open(site.about(transfer.element),
              fmt::format("how '{}' chooses between its sources", name),
              fmt::format("{} of '{}'", key, name));
}

class Judge {
 public:
  Judge(const AnalysedSite& site, const check::TransferDevice& transfer,
        const site::AutomaticTransfer& given)
      : site_(site),
        transfer_(transfer),
        subject_(site.about(transfer.element)),
        name_(site.name(transfer.element)),
        given_(given) {}

  std::vector<Verdict> run() {
    judge_priority();
    judge_limits();
    judge_return();
    judge_cool_down();
    if (verdicts_.empty()) verdicts_.push_back(holds(subject_));
    return std::move(verdicts_);
  }

 private:
  void ask(std::string_view key) { verdicts_.push_back(undecided(site_, transfer_, key)); }
  void tell(std::string message, std::string mend) {
    verdicts_.push_back(broken(subject_, std::move(message), std::move(mend)));
  }

  bool ranks(std::size_t source) const {
    const bool supply = site::facts<site::Supply>(site_.element(source)) != nullptr;
    return std::ranges::any_of(given_.priority, [&](const std::string& word) {
      return word == site_.name(source) || "-" + word == site_.name(source) ||
             (supply && word == "supply");
    });
  }

  void judge_priority() {
    if (given_.priority.empty()) return ask("'priority' under 'automatic'");
    std::vector<std::size_t> left_out;
    for (const std::size_t source : transfer_.sources)
      if (!ranks(source)) left_out.push_back(source);
    if (!left_out.empty())
      tell(fmt::format("'{}' has no place for {} in its priority", name_,
                       check::quoted(site_, left_out)),
           "give every source that it can take its place in 'priority'");
    std::vector<std::string> sorted = given_.priority;
    std::ranges::sort(sorted);
    if (std::ranges::adjacent_find(sorted) != sorted.end())
      tell(fmt::format("'{}' names a source twice in its priority", name_),
           "name each source once, the first choice first");
  }

  void judge_limits() {
    if (!given_.drops_out) ask("'drops out' under 'automatic'");
    if (!given_.picks_up) ask("'picks up' under 'automatic'");
    if (given_.drops_out && given_.picks_up && *given_.picks_up <= *given_.drops_out)
      tell(fmt::format("'{}' picks up at {}, must be above {}", name_, print(*given_.picks_up),
                       print(*given_.drops_out)),
           "raise 'picks up', or it hunts between its sources");
  }

  template <class Facts>
  std::size_t first_of() const {
    for (const std::size_t source : transfer_.sources)
      if (site::facts<Facts>(site_.element(source)) != nullptr) return source;
    return site::none;
  }

  void judge_return() {
    if (!given_.returns_after) return ask("'returns after' under 'automatic'");
    for (const bool from_set : {false, true}) {
      const std::size_t source =
          from_set ? first_of<site::Generator>() : first_of<site::Inverter>();
      const std::optional<Time> least =
          site_.profile.time(from_set ? "return from generator" : "interface reconnection");
      if (source == site::none || !least || *given_.returns_after >= *least) continue;
      return tell(fmt::format("'{}' returns after {}, must wait {}", name_,
                              print(*given_.returns_after), print(*least)),
                  "let the better source be back for longer before it returns");
    }
  }

  void judge_cool_down() {
    const std::size_t set = first_of<site::Generator>();
    if (set == site::none || site::facts<site::Generator>(site_.element(set))->cool_down) return;
    verdicts_.push_back(
        open(site_.about(set),
             fmt::format("how long '{}' runs on after the load is off", site_.name(set)),
             fmt::format("'cool down' of '{}'", site_.name(set))));
  }

  const AnalysedSite& site_;
  const check::TransferDevice& transfer_;
  Subject subject_;
  const std::string& name_;
  const site::AutomaticTransfer& given_;
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const check::TransferDevice& transfer : check::transfer_devices(site)) {
    if (!transfer.by_controller || transfer.sources.size() < 2) continue;
    const auto* device = site::facts<site::Device>(site.element(transfer.element));
    if (device == nullptr || !device->automatic) {
      verdicts.push_back(undecided(site, transfer, "'automatic'"));
      continue;
    }
    for (Verdict& verdict : Judge(site, transfer, *device->automatic).run())
      verdicts.push_back(std::move(verdict));
  }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule priority_and_return{
    .id = "transfer/priority-and-return",
    .severity = Severity::advice,
    .must_hold =
        "Each automatic transfer says which source comes first, when it leaves and takes one, and "
        "how long the better one must have been back.",
    .why =
        "A transfer that hunts between its sources wears its contacts and throws motors onto a "
        "voltage that is out of step with what they still make themselves.",
    .clauses = {"IEC 60947-6-1 (transfer sequences)"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"interface reconnection", "return from generator"},
    .example = R"(# It leaves the supply and takes it again at the same voltage.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes, cool down: 120 s}
devices:
  -Q1:
    device: changeover I-0-II 63 A 2P
    operated: controller
    without power: 0
    automatic: {priority: [supply, -G2], drops out: 200 V, picks up: 200 V, returns after: 5 min}
boards:
  +A1:
    feed: [-Q1, -W4 3×10 mm² 5 m]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
