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

/// Takes away what is possible without the failure as well; what is not known stays open.
void keep_new(Certificate& failed, const Certificate& sound) {
  for (std::size_t v = 0; v < failed.verdicts.size(); ++v) {
    HazardVerdict& verdict = failed.verdicts[v];
    const HazardVerdict& before = sound.verdicts[v];
    const auto in = [](const std::vector<network::Refutation>& list, const auto& it) {
      return std::ranges::any_of(
          list, [&](const auto& other) { return network::same_subject(it.hazard, other.hazard); });
    };
    std::erase_if(verdict.refutations, [&](const auto& it) { return in(before.refutations, it); });
    std::erase_if(verdict.undecided, [&](const auto& it) { return in(before.refutations, it); });
    verdict.left_out.clear();
    verdict.outcome = network::outcome_of(verdict, verdict.outcome != Outcome::not_relevant);
  }
}

/// Only a hand moves it, or nobody: every position it may stand in has been looked at already.
bool moves_by_itself(network::Mover mover) {
  return mover != network::Mover::hand && mover != network::Mover::nobody;
}

/// A lever or key stands against a welded contact; what a coil or a program keeps apart does not.
network::Movement with_failure(const network::Movement& movement, const site::Site& site,
                               network::SwitchAt stuck) {
  network::Movement failed = network::with_stuck(movement, stuck.by, stuck.position);
  std::erase_if(failed.barriers, [&](const network::Barrier& barrier) {
    const auto means = site.interlocks[barrier.interlock].means;
    return means != site::InterlockMeans::mechanical && means != site::InterlockMeans::key &&
           std::ranges::count(barrier.never_together, stuck.by, &network::SwitchAt::by) > 0;
  });
  return failed;
}

std::vector<documents::SingleFailure> failures(const network::Network& network,
                                               const site::Site& site,
                                               const network::HazardScope& scope,
                                               const Certificate& sound) {
  std::vector<documents::SingleFailure> all;
  for (std::size_t s = 0; s < network.switches.size(); ++s) {
    if (!moves_by_itself(sound.movement.of[s].mover)) continue;
    for (std::size_t p = 0; p < network.switches[s].positions.size(); ++p) {
      const network::SwitchAt stuck{static_cast<int>(s), static_cast<int>(p)};
      Certificate failed =
          network::prove(network, site, scope, with_failure(sound.movement, site, stuck));
      keep_new(failed, sound);
      all.push_back({stuck, std::move(failed)});
    }
  }
  return all;
}

/// A site with what the proof asks of it, and its certificate.
struct Ground {
  network::Network network;
  network::HazardScope scope;
  Certificate certificate;
};

Result<Ground> ground(const site::Site& site, const std::string& wished) {
  const Result<check::Profile> profile = rules::profile_for(site, wished);
  if (!profile) return fail(profile.error().message);
  const check::AnalysedSite analysed = check::analyse(site, *profile);
  const network::HazardScope scope = check::proof_scope(analysed);
  return Ground{analysed.network, scope, network::prove(analysed.network, site, scope)};
}

}  // namespace

Result<Proved> prove_site(const site::Site& site, const ProofOptions& options) {
  const Result<Ground> on = ground(site, options.profile);
  if (!on) return fail(on.error().message);
  std::vector<documents::SingleFailure> failed;
  if (options.single_failure) failed = failures(on->network, site, on->scope, on->certificate);
  Proved proved{.safe = std::ranges::all_of(on->certificate.verdicts, is_safe)};
  if (options.json) {
    proved.text = documents::certificate_json(on->network, site, on->certificate,
                                              options.single_failure ? &failed : nullptr);
    return proved;
  }
  proved.text = documents::certificate_text(on->network, site, on->certificate);
  if (options.single_failure) proved.text += documents::failures_text(on->network, site, failed);
  return proved;
}

Result<std::string> positions_in_a_line(const site::Site& site, const std::string& profile) {
  const Result<Ground> on = ground(site, profile);
  if (!on) return fail(on.error().message);
  return documents::certificate_line(on->certificate);
}

Result<std::string> single_failures_of_site(const site::Site& site, const std::string& profile) {
  const Result<Ground> on = ground(site, profile);
  if (!on) return fail(on.error().message);
  return documents::failures_text(on->network, site,
                                  failures(on->network, site, on->scope, on->certificate));
}

}  // namespace linewright
