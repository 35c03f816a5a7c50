#include "check/rcd_cover.hpp"

#include <algorithm>
#include <map>
#include <tuple>

#include <fmt/core.h>

#include "units/print.hpp"

namespace linewright::check {
namespace {

using network::Loop;
using network::ReturnPath;
using site::Use;

Need yes() {
  return {Need::Answer::yes, {}};
}
Need no() {
  return {Need::Answer::no, {}};
}

/// The rated current of the device that limits the circuit, nearest to the load.
std::optional<Current> circuit_rating(const AnalysedSite& site, const Loop& loop) {
  for (auto guard = loop.line_guards.rbegin(); guard != loop.line_guards.rend(); ++guard) {
    const auto* device = site::facts<site::Device>(site.element(*guard));
    const bool limits =
        device->kind == site::DeviceKind::breaker || device->kind == site::DeviceKind::rcbo ||
        device->kind == site::DeviceKind::fuse || device->kind == site::DeviceKind::fuse_switch;
    if (limits) return device->rated_current;
  }
  return std::nullopt;
}

/// Sockets and mobile equipment: asked for up to a rated current, where the profile gives one.
Need up_to_rating(const AnalysedSite& site, const Loop& loop) {
  const auto limit = site.profile.current("rcd sockets up to");
  if (!limit) return yes();
  const auto rating = circuit_rating(site, loop);
  if (rating) return *rating <= *limit ? yes() : no();
  return {Need::Answer::unknown,
          fmt::format("rated current of '{}' (device)", site.name(circuit_device(loop)))};
}

/// What the guards of one loop amount to.
struct Found {
  std::size_t fast = site::none;     ///< nearest to the load: at most the limit, not delayed
  std::size_t any = site::none;      ///< nearest to the load
  std::size_t unrated = site::none;  ///< its rated residual current is not given
  bool fast_sees = false;
  bool any_sees = false;
};

Found guards_found(const AnalysedSite& site, const Loop& loop) {
  Found found;
  const auto limit = site.profile.current("rcd limit");
  for (const network::RcdOnLoop& rcd : loop.rcds) {
    const site::Residual& side = *residual(site, rcd.element);
    found.any = rcd.element;
    found.any_sees = found.any_sees || rcd.sees;
    if (side.delay == site::ResidualDelay::selective) continue;
    if (!side.operating_current) {
      found.unrated = rcd.element;
    } else if (limit && *side.operating_current <= *limit) {
      found.fast = rcd.element;
      found.fast_sees = found.fast_sees || rcd.sees;
    }
  }
  return found;
}

/// One loop with what it needs and has; the ground for judging the loops of a load together.
struct Row {
  const network::StateView* state;
  const Loop* loop;
  Need need;
  Found found;
};

/// A guard of that kind from any source in any state, or none.
std::size_t anywhere(const std::vector<Row>& rows, std::size_t Found::* guard) {
  for (const Row& row : rows)
    if (row.found.*guard != site::none) return row.found.*guard;
  return site::none;
}

/// Sets the standing where the guard wanted may be here, elsewhere, or nowhere.
void stand(CircuitCover& cover, std::size_t here, bool sees, std::size_t elsewhere) {
  cover.guarded_elsewhere = elsewhere != site::none;
  cover.rcd = here != site::none ? here : elsewhere;
  if (here != site::none)
    cover.standing = sees ? Standing::guarded : Standing::unseen;
  else
    cover.standing = cover.guarded_elsewhere ? Standing::skipped : Standing::never;
}

void leave_open(CircuitCover& cover, std::string missing) {
  cover.standing = Standing::undecided;
  cover.missing = std::move(missing);
}

CircuitCover cover(const AnalysedSite& site, const Row& row, const std::vector<Row>& of_load) {
  CircuitCover cover{.state = row.state, .loop = row.loop};
  const Found& found = row.found;
  const std::size_t fast = anywhere(of_load, &Found::fast);
  const std::size_t any = anywhere(of_load, &Found::any);
  const bool through_earth = row.loop->return_path == ReturnPath::through_earth;
  const bool earth_skips = through_earth && found.any == site::none && any != site::none;
  const bool may_need = row.need.answer != Need::Answer::no;
  if (row.need.answer == Need::Answer::yes || (may_need && !earth_skips)) {
    cover.wanted = Wanted::additional;
    stand(cover, found.fast, found.fast_sees, fast);
    if (found.fast != site::none) return cover;
    if (found.unrated != site::none)
      leave_open(cover, fmt::format("residual operating current of '{}' (device: … 30 mA)",
                                    site.name(found.unrated)));
    else if (row.need.answer == Need::Answer::unknown)
      leave_open(cover, row.need.missing);
  } else if (through_earth) {
    cover.wanted = Wanted::any_rcd;
    stand(cover, found.any, found.any_sees, any);
  }
  return cover;
}

}  // namespace

Need additional_protection(const AnalysedSite& site, const Loop& loop) {
  const auto& load = std::get<site::LoadGroup>(site.element(loop.load).facts);
  const Profile& profile = site.profile;
  const bool outdoors = load.use == Use::outdoors || load.outdoors == true;
  switch (load.use) {
    case Use::separated:
      return no();
    case Use::unknown:
      if (profile.says_yes("rcd whole dwelling") && load.dwelling) return yes();
      return {Need::Answer::unknown,
              fmt::format("what circuit '{}' serves (use)", circuit_name(site, loop.load))};
    case Use::ev:
      if (profile.says_yes("rcd ev")) return yes();
      break;
    case Use::bathroom:
      if (profile.says_yes("rcd bathroom")) return yes();
      break;
    case Use::lighting:
      if (profile.says_yes("rcd lighting in dwellings") && load.dwelling) return yes();
      break;
    default:
      break;
  }
  if (profile.says_yes("rcd whole dwelling") && load.dwelling) return yes();
  if (load.use == Use::sockets && profile.says_yes("rcd sockets")) return up_to_rating(site, loop);
  const bool mobile = load.use == Use::outdoors || (load.use == Use::sockets && outdoors);
  if (mobile && profile.says_yes("rcd outdoors")) return up_to_rating(site, loop);
  return no();
}

std::vector<CircuitCover> circuit_covers(const AnalysedSite& site) {
  std::map<std::size_t, std::vector<Row>> by_load;
  for (const network::StateView& state : site.states)
    for (const Loop& loop : state.loops)
      by_load[loop.load].push_back(
          {&state, &loop, additional_protection(site, loop), guards_found(site, loop)});
  std::vector<CircuitCover> covers;
  for (const auto& [load, rows] : by_load)
    for (const Row& row : rows)
      covers.push_back(cover(site, row, rows));
  return covers;
}

std::vector<SkippedRcd> skipped_rcds(const std::vector<CircuitCover>& covers) {
  std::vector<SkippedRcd> skipped;
  for (const CircuitCover& cover : covers) {
    if (cover.standing != Standing::skipped) continue;
    const auto same = std::ranges::find_if(skipped, [&](const SkippedRcd& other) {
      return std::tie(other.state, other.source, other.rcd) ==
             std::tie(cover.state, cover.loop->source, cover.rcd);
    });
    if (same != skipped.end())
      same->loads.push_back(cover.loop->load);
    else
      skipped.push_back({cover.state, cover.loop->source, cover.rcd, {cover.loop->load}});
  }
  return skipped;
}

const site::Residual* residual(const AnalysedSite& site, std::size_t element) {
  const auto* device = site::facts<site::Device>(site.element(element));
  return device != nullptr && device->residual ? &*device->residual : nullptr;
}

std::string circuit_name(const AnalysedSite& site, std::size_t load) {
  const site::Element& element = site.element(load);
  return element.name.empty() ? element.designation : element.name;
}

std::size_t circuit_device(const network::Loop& loop) {
  return loop.line_guards.empty() ? loop.load : loop.line_guards.back();
}

std::string circuits_in_words(const AnalysedSite& site, const std::vector<std::size_t>& loads) {
  if (loads.size() == 1) return fmt::format("'{}'", circuit_name(site, loads.front()));
  return fmt::format("{} circuits", loads.size());
}

std::vector<Note> circuit_notes(const AnalysedSite& site, const std::vector<std::size_t>& loads,
                                const std::string& text) {
  std::vector<Note> notes;
  for (const std::size_t load : loads)
    notes.push_back(
        {site.element(load).where, fmt::format("'{}' {}", circuit_name(site, load), text)});
  return notes;
}

}  // namespace linewright::check
