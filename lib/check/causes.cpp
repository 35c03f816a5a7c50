#include "check/causes.hpp"

#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::check {
namespace {

/// "'Kitchen', 'Hall' and 'Attic'"
std::string names_of(const AnalysedSite& site, const std::vector<std::size_t>& loads) {
  std::string text;
  for (std::size_t i = 0; i < loads.size(); ++i) {
    if (i > 0) text += i + 1 == loads.size() ? " and " : ", ";
    text += fmt::format("'{}'", circuit_name(site, loads[i]));
  }
  return text;
}

template <class Of>
bool all_alike(const std::vector<HurtCircuit>& circuits, Of of) {
  return std::ranges::all_of(circuits,
                             [&](const auto& each) { return of(each) == of(circuits.front()); });
}

}  // namespace

Subject about_circuits(const AnalysedSite& site, const std::vector<HurtCircuit>& circuits,
                       const network::StateView* state) {
  Subject subject = site.about(circuits.front().element, state);
  if (circuits.size() == 1) return subject;
  const auto board_of = [&](const HurtCircuit& each) { return site.element(each.load).assembly; };
  const std::size_t board = board_of(circuits.front());
  if (board == site::none || !all_alike(circuits, board_of)) return subject;
  subject.element = site.site.assemblies[board].designation;
  const auto place_of = [&](const HurtCircuit& each) { return site.element(each.load).where; };
  if (!all_alike(circuits, place_of)) subject.where = site.site.assemblies[board].where;
  return subject;
}

bool neutral_lost(const AnalysedSite& site, const network::StateView& state, std::size_t load) {
  const std::uint32_t own = site.network.neutral(load, 0);
  if (own == network::no_node) return false;
  // A source that only follows makes no neutral: what it alone is joined to floats.
  return std::ranges::none_of(state.zones, [&](const network::Zone& zone) {
    return std::ranges::any_of(zone.sources, [&](std::size_t source) {
      return state.possibly_joined(own, network::source_neutral(site.network, source));
    });
  });
}

std::string circuits_named(const AnalysedSite& site, const std::vector<std::size_t>& loads) {
  if (loads.size() <= 2) return names_of(site, loads);
  return fmt::format("'{}' and {} more circuits", circuit_name(site, loads.front()),
                     loads.size() - 1);
}

std::vector<Note> circuits_by_board(const AnalysedSite& site, const std::vector<std::size_t>& loads,
                                    const std::string& text) {
  std::map<std::size_t, std::vector<std::size_t>> by_board;
  for (const std::size_t load : loads)
    by_board[site.element(load).assembly].push_back(load);
  std::vector<Note> notes;
  for (const auto& [board, on_it] : by_board)
    notes.push_back(
        {site.element(on_it.front()).where, fmt::format("{}: {}", text, names_of(site, on_it))});
  return notes;
}

}  // namespace linewright::check
