#include "check/later.hpp"

#include "check/proof_scope.hpp"

namespace linewright::check {

std::shared_ptr<Later> nothing_yet() {
  return std::make_shared<Later>();
}

const network::HazardScope& scope_of(const AnalysedSite& site) {
  auto& scope = site.later->scope;
  if (!scope) scope = proof_scope(site);
  return *scope;
}

const network::Certificate& certificate_of(const AnalysedSite& site) {
  auto& certificate = site.later->certificate;
  if (!certificate) certificate = network::prove(site.network, site.site, scope_of(site));
  return *certificate;
}

const network::MotionNetwork& motion_of(const AnalysedSite& site) {
  auto& motion = site.later->motion;
  if (!motion) motion = network::with_motion(site.network, site.site);
  return *motion;
}

const std::vector<network::Transition>& transitions_of(const AnalysedSite& site) {
  auto& transitions = site.later->transitions;
  if (!transitions) transitions = network::transitions(motion_of(site), site.site);
  return *transitions;
}

}  // namespace linewright::check
