#include "input/protective.hpp"

#include <vector>

namespace linewright::input {
namespace {

using site::Conductor;
using site::Conductors;
using site::none;

bool has_earth_core(const CableLine& cable, Conductors carried) {
  if (cable.separate_earth) return true;
  if (cable.given) return cable.given->has(Conductor::pe);
  switch (cable.cores) {
    case 3:
      return !carried.has(Conductor::dc_plus) && (carried & site::lines).count() <= 1;
    case 4:
      return !carried.has(Conductor::n) && !carried.has(Conductor::pen);
    case 5:
      return !carried.has(Conductor::pen);
    default:
      return false;
  }
}

bool brings_no_earth(const Draft& draft, const site::Terminal& end) {
  const site::Element& element = draft.site.elements[end.element];
  if (const auto* supply = site::facts<site::Supply>(element))
    return !supply->earth_offered || !draft.supplier_earth ||
           supply->earthing == site::Earthing::tn_c_s;
  if (site::facts<site::PenSplit>(element) != nullptr)
    return end.terminal == 0 || !draft.supplier_earth;
  return false;
}

bool may_carry(const Draft& draft, std::size_t index) {
  const site::Run& run = draft.site.runs[index];
  const RunPlan& plan = draft.run_plans[index];
  if (plan.only) return plan.only->has(Conductor::pe);
  if (run.conductors.has(Conductor::pen)) return false;
  if (brings_no_earth(draft, run.from) || brings_no_earth(draft, run.to)) return false;
  if (plan.cable) return has_earth_core(*plan.cable, run.conductors);
  return !run.conductors.has(Conductor::dc_plus);
}

// What a protective conductor only passes through; at anything else it may end.
bool only_passes(const site::Element& element) {
  return site::facts<site::Device>(element) != nullptr ||
         site::facts<site::Meter>(element) != nullptr ||
         site::facts<site::Connector>(element) != nullptr ||
         site::facts<site::Transformer>(element) != nullptr;
}

// The runs that carry PE: those that may, less those that lead through devices to nowhere.
std::vector<bool> carriers(const Draft& draft) {
  const site::Site& site = draft.site;
  std::vector<bool> carries(site.runs.size());
  std::vector<std::vector<std::size_t>> at(site.elements.size());
  std::vector<std::size_t> degree(site.elements.size(), 0);
  for (std::size_t i = 0; i < site.runs.size(); ++i) {
    carries[i] = may_carry(draft, i);
    if (!carries[i]) continue;
    for (const std::size_t end : {site.runs[i].from.element, site.runs[i].to.element}) {
      at[end].push_back(i);
      ++degree[end];
    }
  }
  std::vector<std::size_t> waiting;
  for (std::size_t i = 0; i < site.elements.size(); ++i)
    waiting.push_back(i);
  while (!waiting.empty()) {
    const std::size_t element = waiting.back();
    waiting.pop_back();
    if (degree[element] != 1 || !only_passes(site.elements[element])) continue;
    for (const std::size_t i : at[element]) {
      if (!carries[i]) continue;
      carries[i] = false;
      for (const std::size_t end : {site.runs[i].from.element, site.runs[i].to.element}) {
        --degree[end];
        waiting.push_back(end);
      }
    }
  }
  return carries;
}

}  // namespace

bool fourth_core_is_earth(const RunPlan& plan, Conductors offered) {
  if (offered.has(Conductor::pen)) return false;
  return plan.load_without_neutral || !offered.has(Conductor::n);
}

bool add_supplier_earth(Draft& draft) {
  if (draft.supply == none || !draft.supplier_earth) return false;
  const site::Site& site = draft.site;
  const auto& supply = std::get<site::Supply>(site.elements[draft.supply].facts);
  if (!supply.earth_offered) return false;
  std::size_t origin = draft.supply;
  if (supply.earthing == site::Earthing::tn_c_s) {
    for (std::size_t i = 0; i < site.elements.size(); ++i)
      if (site::facts<site::PenSplit>(site.elements[i])) origin = i;
    if (origin == draft.supply) return false;
  }
  const std::vector<bool> carries = carriers(draft);
  for (std::size_t i = 0; i < site.runs.size(); ++i)
    if (carries[i] && (site.runs[i].from.element == origin || site.runs[i].to.element == origin))
      return false;
  const std::size_t terminal = origin == draft.supply ? 0 : 1;
  add_run(draft,
          {.designation = {},
           .where = site.elements[origin].where,
           .from = {origin, terminal},
           .to = {draft.earth_terminal, 0},
           .conductors = {},
           .cable = {}},
          {.cable = {}, .chain = none, .only = Conductors{Conductor::pe}});
  return true;
}

void settle_protective(Draft& draft) {
  const std::vector<bool> carries = carriers(draft);
  for (std::size_t i = 0; i < carries.size(); ++i)
    if (carries[i]) draft.site.runs[i].conductors.add(Conductor::pe);
}

}  // namespace linewright::input
