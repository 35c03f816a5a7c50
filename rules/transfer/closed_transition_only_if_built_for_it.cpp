// Speaks of devices that join both their sources for a moment on purpose ('closed transition').
#include <fmt/core.h>

#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

class Judge {
 public:
  Judge(const AnalysedSite& site, std::size_t element, const site::ClosedTransition& facts)
      : site_(site), subject_(site.about(element)), name_(site.name(element)), facts_(facts) {}

  std::vector<Verdict> run() {
    answer(facts_.synchronism_check, "synchronism check",
           "'{}' overlaps without a synchronism check",
           "fit a device with a synchronism check, or one that breaks before it makes");
    answer(facts_.distributor_consent, "distributor consent",
           "'{}' overlaps without the distributor's consent",
           "get the consent before it is switched on, or transfer with a break");
    judge_overlap();
    if (verdicts_.empty()) verdicts_.push_back(holds(subject_));
    return std::move(verdicts_);
  }

 private:
  void ask(std::string_view key) {
    verdicts_.push_back(open(subject_, fmt::format("whether '{}' may overlap", name_),
                             fmt::format("'{}' under 'closed transition' of '{}'", key, name_)));
  }

  void answer(std::optional<bool> given, std::string_view key, fmt::string_view message,
              std::string mend) {
    if (!given) return ask(key);
    if (!*given)
      verdicts_.push_back(
          broken(subject_, fmt::vformat(message, fmt::make_format_args(name_)), std::move(mend)));
  }

  void judge_overlap() {
    if (!facts_.overlap) return ask("overlap");
    const std::optional<Time> most = site_.profile.time("closed transition overlap");
    if (!most || *facts_.overlap <= *most) return;
    verdicts_.push_back(broken(subject_,
                               fmt::format("'{}' overlaps for {}, at most {} are allowed", name_,
                                           print(*facts_.overlap), print(*most)),
                               "shorten the overlap in its settings"));
  }

  const AnalysedSite& site_;
  Subject subject_;
  const std::string& name_;
  const site::ClosedTransition& facts_;
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device == nullptr || !device->closed_transition) continue;
    for (Verdict& verdict : Judge(site, e, *device->closed_transition).run())
      verdicts.push_back(std::move(verdict));
  }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule closed_transition_only_if_built_for_it{
    .id = "transfer/closed-transition-only-if-built-for-it",
    .severity = Severity::danger,
    .must_hold =
        "A transfer that overlaps has a synchronism check, a time limit and the distributor's "
        "consent.",
    .why =
        "Closing out of step gives several times the short-circuit current; and while it lasts the "
        "site runs in parallel with the public network.",
    .clauses = {"IEC 60947-6-1 Annex D", "IEC 60364-5-55 551.7", "EREC G99 (short-term parallel)"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"closed transition overlap"},
    .example = R"(# It overlaps, but nothing compares the two sides first.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 50 kVA, neutral: linked, fixed: yes}
devices:
  -Q1:
    device: changeover I-0-II 125 A 4P
    operated: controller
    without power: 0
    closed transition: {synchronism check: no, overlap: 100 ms, distributor consent: yes}
boards:
  +A1:
    feed: [-Q1, -W4 5×35 mm² 5 m]
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
