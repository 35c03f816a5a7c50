// What is usually asked of a site: energising, outage, generator, bypass, isolation for work.
#include <algorithm>

#include <fmt/core.h>

#include "documents/procedure.hpp"

namespace linewright::documents {
namespace {

using site::StateKind;

const site::State* first_of(const site::Site& site, StateKind kind) {
  const auto found = std::ranges::find(site.states, kind, &site::State::kind);
  return found == site.states.end() ? nullptr : &*found;
}

bool has_source(const site::Site& site, const site::State& state,
                bool (*is)(const site::Element&)) {
  return std::ranges::any_of(state.running, [&](std::size_t e) { return is(site.elements[e]); });
}

bool is_generator(const site::Element& element) {
  return site::facts<site::Generator>(element) != nullptr;
}

void add(std::vector<ProcedureRequest>& requests, std::string purpose, const site::State* from,
         const site::State* to) {
  if (from != nullptr && to != nullptr)
    requests.push_back({.purpose = std::move(purpose), .from = from->name, .to = to->name});
}

void add_bypasses(const site::Site& site, std::vector<ProcedureRequest>& requests) {
  for (const site::State& state : site.states) {
    if (state.kind != StateKind::bypass) continue;
    const bool on_generator = has_source(site, state, is_generator);
    const site::State* usual =
        first_of(site, on_generator ? StateKind::generator : StateKind::grid);
    const std::string_view fed = on_generator ? " on the generator" : "";
    add(requests, fmt::format("Into the bypass{}", fed), usual, &state);
    add(requests, fmt::format("Out of the bypass{}", fed), &state, usual);
  }
}

/// Work on inverters begins in the bypass where there is one: the circuits stay alive.
std::string start_of_work(const site::Site& site, std::size_t element) {
  for (const site::State& state : site.states)
    if (state.kind == StateKind::bypass && !has_source(site, state, is_generator) &&
        std::ranges::count(state.running, element) == 0)
      return state.name;
  return usual_start(site);
}

/// The inverter on whose terminals a store hangs, over what stands in series.
std::size_t inverter_of(const site::Site& site, std::size_t store) {
  std::vector<bool> seen(site.elements.size(), false);
  std::vector<std::size_t> next{store};
  seen[store] = true;
  while (!next.empty()) {
    const std::size_t at = next.back();
    next.pop_back();
    if (site::facts<site::Inverter>(site.elements[at]) != nullptr) return at;
    for (const site::Run& run : site.runs) {
      if ((run.conductors & site::direct_current).empty()) continue;
      if (run.from.element != at && run.to.element != at) continue;
      const std::size_t other = run.from.element == at ? run.to.element : run.from.element;
      if (!seen[other]) next.push_back(other);
      seen[other] = true;
    }
  }
  return store;
}

void add_isolations(const site::Site& site, std::vector<ProcedureRequest>& requests) {
  for (const site::Assembly& assembly : site.assemblies)
    if (assembly.kind == site::Assembly::Kind::transfer_panel)
      requests.push_back({.purpose = "Work in the panel",
                          .from = usual_start(site),
                          .isolate = assembly.designation});
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::Inverter>(site.elements[e]) != nullptr)
      requests.push_back({.purpose = "Work on an inverter",
                          .from = start_of_work(site, e),
                          .isolate = site.elements[e].designation});
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::Battery>(site.elements[e]) != nullptr)
      requests.push_back({.purpose = "Work on a battery",
                          .from = start_of_work(site, inverter_of(site, e)),
                          .isolate = site.elements[e].designation});
}

}  // namespace

std::vector<ProcedureRequest> usual_requests(const site::Site& site) {
  std::vector<ProcedureRequest> requests;
  const site::State* grid = first_of(site, StateKind::grid);
  const site::State* island = first_of(site, StateKind::island);
  const site::State* generator = first_of(site, StateKind::generator);
  site::State named_off;
  named_off.name = "off";
  const site::State* off = first_of(site, StateKind::off);
  if (off == nullptr) off = &named_off;
  add(requests, "Energise from the grid", off, grid);
  add(requests, "Start on the generator", off, generator);
  add(requests, "Start in island", off, island);
  add(requests, "The grid fails", grid, island);
  add(requests, "The grid is back", island, grid);
  add(requests, "From island to the generator", island, generator);
  add(requests, "The grid fails, with the generator", island == nullptr ? grid : nullptr,
      generator);
  add(requests, "From the generator back to the grid", generator, grid);
  add_bypasses(site, requests);
  add(requests, "Switch off", grid, off);
  add_isolations(site, requests);
  return requests;
}

}  // namespace linewright::documents
