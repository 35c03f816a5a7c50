#include <algorithm>

#include "check/proof_scope.hpp"
#include "documents/certificate.hpp"
#include "linewright.hpp"
#include "rules/profile_data.hpp"

namespace linewright {
namespace {

using network::Certificate;
using network::HazardVerdict;
using network::Outcome;

bool is_safe(const HazardVerdict& verdict) {
  return verdict.outcome == Outcome::proved || verdict.outcome == Outcome::not_relevant;
}

/// Takes away what is possible without the failure as well.
void keep_new(Certificate& failed, const Certificate& sound) {
  for (std::size_t v = 0; v < failed.verdicts.size(); ++v) {
    HazardVerdict& verdict = failed.verdicts[v];
    const auto known = [&](const network::Refutation& it) {
      return std::ranges::any_of(sound.verdicts[v].refutations, [&](const auto& other) {
        return network::same_subject(it.hazard, other.hazard);
      });
    };
    std::erase_if(verdict.refutations, known);
    if (verdict.outcome != Outcome::refuted || !verdict.refutations.empty()) continue;
    const bool all_told = verdict.undecided.empty() && !verdict.cut_short;
    verdict.outcome = all_told ? Outcome::proved : Outcome::open;
  }
}

std::vector<documents::SingleFailure> failures(const network::Network& network,
                                               const site::Site& site,
                                               const network::HazardScope& scope,
                                               const Certificate& sound) {
  std::vector<documents::SingleFailure> all;
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    const network::Mover mover = sound.movement.of[s].mover;
    if (mover != network::Mover::law && mover != network::Mover::controller) continue;
    for (std::size_t p = 0; p < network.switches[s].positions.size(); ++p) {
      const network::SwitchAt stuck{static_cast<int>(s), static_cast<int>(p)};
      Certificate failed = network::prove(
          network, site, scope, network::with_stuck(sound.movement, stuck.by, stuck.position));
      keep_new(failed, sound);
      all.push_back({stuck, std::move(failed)});
    }
  }
  return all;
}

}  // namespace

Result<Proved> prove_site(const site::Site& site, const ProofOptions& options) {
  const Result<check::Profile> profile = rules::profile_for(site, options.profile);
  if (!profile) return fail(profile.error().message);
  const check::AnalysedSite analysed = check::analyse(site, *profile);
  const network::HazardScope scope = check::proof_scope(analysed);
  const Certificate certificate = network::prove(analysed.network, site, scope);
  Proved proved{.safe = std::ranges::all_of(certificate.verdicts, is_safe)};
  if (options.json) {
    proved.text = documents::certificate_json(analysed.network, site, certificate);
    return proved;
  }
  proved.text = documents::certificate_text(analysed.network, site, certificate);
  if (options.single_failure)
    proved.text += documents::failures_text(analysed.network, site,
                                            failures(analysed.network, site, scope, certificate));
  return proved;
}

}  // namespace linewright
