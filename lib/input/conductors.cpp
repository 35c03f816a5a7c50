#include "input/conductors.hpp"

#include <deque>
#include <unordered_map>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "input/protective.hpp"
#include "input/read_parts.hpp"

namespace linewright::input {
namespace {

using site::Conductor;
using site::Conductors;
using site::none;

constexpr Conductors neutral_like{Conductor::n, Conductor::pen};
constexpr Conductors protective{Conductor::pe};
constexpr int most_changes = 32;  // of one run; more only where runs feed each other in a ring

Conductors lines_of(int phases, Conductor phase) {
  return phases == 3 ? site::lines : Conductors{phase};
}

// What a source gives by itself; nothing for what only passes on.
Conductors inherent(const Draft& draft, std::size_t index) {
  const site::Element& element = draft.site.elements[index];
  if (const auto* supply = site::facts<site::Supply>(element)) {
    const Conductors lines = lines_of(draft.site.system.phases, Conductor::l1);
    const bool has_pen = supply->earthing == site::Earthing::tn_c_s;
    if (has_pen) return lines | Conductors{Conductor::pen};
    return brings_neutral(draft.site.system) ? lines | Conductors{Conductor::n} : lines;
  }
  if (site::facts<site::Generator>(element) || site::facts<site::Inverter>(element)) {
    const auto phases = draft.phases_of.find(index);
    const auto phase = draft.phase_of.find(index);
    return lines_of(phases == draft.phases_of.end() ? 1 : phases->second,
                    phase == draft.phase_of.end() ? Conductor::l1 : phase->second) |
           Conductors{Conductor::n};
  }
  if (site::facts<site::Battery>(element) || site::facts<site::PvArray>(element))
    return site::direct_current;
  return {};
}

// The runs that leave and reach each element.
struct Incidence {
  std::vector<std::vector<std::size_t>> down;
  std::vector<std::vector<std::size_t>> up;
};

Incidence incidence(const site::Site& site) {
  Incidence result{std::vector<std::vector<std::size_t>>(site.elements.size()),
                   std::vector<std::vector<std::size_t>>(site.elements.size())};
  for (std::size_t i = 0; i < site.runs.size(); ++i) {
    result.down[site.runs[i].from.element].push_back(i);
    result.up[site.runs[i].to.element].push_back(i);
  }
  return result;
}

class Flow {
 public:
  explicit Flow(Draft& draft)
      : draft_(draft), incidence_(incidence(draft.site)), brought_(draft.site.elements.size()) {}

  /// Lets lines and neutrals flow until nothing changes. Protective conductors are left out.
  void run() {
    std::deque<std::size_t> waiting;
    std::vector<int> changes(draft_.site.runs.size(), 0);
    for (std::size_t i = 0; i < draft_.site.runs.size(); ++i) {
      draft_.site.runs[i].conductors = {};
      waiting.push_back(i);
    }
    for (std::size_t i = 0; i < brought_.size(); ++i)
      brought_[i] = {};
    while (!waiting.empty()) {
      const std::size_t index = waiting.front();
      waiting.pop_front();
      site::Run& run = draft_.site.runs[index];
      const Conductors carried = carry(index);
      if (carried == run.conductors || ++changes[index] > most_changes) continue;
      const bool only_more = (run.conductors - carried).empty();
      run.conductors = carried;
      const Conductors before = brought_[run.to.element];
      brought_[run.to.element] = only_more ? before | carried : all_above(run.to.element);
      if (brought_[run.to.element] == before) continue;
      for (const std::size_t next : incidence_.down[run.to.element])
        waiting.push_back(next);
    }
  }

  /// Gives single-phase chains that begin on several phases one of them in turn, board by board.
  void deal_phases() {
    std::unordered_map<std::size_t, std::size_t> next;
    std::vector<bool> seen(draft_.chain_phases.size(), false);
    for (std::size_t i = 0; i < draft_.site.runs.size(); ++i) {
      const RunPlan& plan = draft_.run_plans[i];
      if (!plan.single_phase || plan.chain == none || seen[plan.chain]) continue;
      seen[plan.chain] = true;
      ChainPhase& chain = draft_.chain_phases[plan.chain];
      const site::Element& from = draft_.site.elements[draft_.site.runs[i].from.element];
      const Conductors offered = brought(draft_.site.runs[i].from.element) & site::lines;
      if (chain.phase || offered.count() < 2) continue;
      constexpr Conductor turn[] = {Conductor::l1, Conductor::l2, Conductor::l3};
      std::size_t& count = next[from.assembly];
      while (!offered.has(turn[count % 3]))
        ++count;
      chain.phase = turn[count++ % 3];
    }
  }

  /// What an element gives to the runs below it.
  Conductors brought(std::size_t element) const {
    const Conductors own = inherent(draft_, element);
    if (!own.empty()) return own;
    Conductors all = brought_[element];
    if (site::facts<site::PenSplit>(draft_.site.elements[element]) && all.has(Conductor::pen)) {
      all.remove(Conductor::pen);
      all.add(Conductor::n);
    }
    return all;
  }

 private:
  Conductors all_above(std::size_t element) const {
    Conductors all;
    for (const std::size_t i : incidence_.up[element])
      all = all | draft_.site.runs[i].conductors;
    return all;
  }

  Conductors carry(std::size_t index) const {
    const site::Run& run = draft_.site.runs[index];
    const RunPlan& plan = draft_.run_plans[index];
    if (plan.only) return *plan.only - protective;
    Conductors offered = brought(run.from.element) - protective - plan.without;
    if (plan.single_phase && !offered.has(Conductor::dc_plus)) offered = one_line(offered, index);
    if (plan.cable) return offered & cores(*plan.cable, plan, offered);
    return offered;
  }

  Conductors one_line(Conductors offered, std::size_t index) const {
    const Conductors all = offered & site::lines;
    Conductor line = Conductor::l1;
    for (const Conductor each : {Conductor::l3, Conductor::l2, Conductor::l1})
      if (all.has(each)) line = each;
    const std::size_t chain = draft_.run_plans[index].chain;
    if (chain != none) line = draft_.chain_phases[chain].phase.value_or(line);
    return (offered - site::lines) | (all & Conductors{line});
  }

  // The cores of a cable that are not protective conductors.
  static Conductors cores(const CableLine& cable, const RunPlan& plan, Conductors offered) {
    if (cable.given) {
      const Conductors given = *cable.given;
      const bool one_line = (given & site::lines).count() == 1;
      return one_line ? (given | (offered & site::lines)) : given;
    }
    const int count = cable.cores;
    if (offered.has(Conductor::dc_plus)) return site::direct_current;
    const Conductors lines = offered & site::lines;
    if (count == 1) return lines;
    const bool all_lines_only = count == 3 && cable.separate_earth;
    if (all_lines_only) return lines;
    if (count == 4 && !cable.separate_earth && fourth_core_is_earth(plan, offered)) return lines;
    return lines | (offered & neutral_like);
  }

  Draft& draft_;
  Incidence incidence_;
  std::vector<Conductors> brought_;  ///< to each element by the runs that end at it
};

void settle_elements(Draft& draft) {
  site::Site& site = draft.site;
  for (std::size_t i = 0; i < site.elements.size(); ++i)
    site.elements[i].conductors = inherent(draft, i);
  for (const site::Run& run : site.runs)
    for (const std::size_t end : {run.from.element, run.to.element})
      site.elements[end].conductors = site.elements[end].conductors | run.conductors;
  if (draft.earth_terminal != none) site.elements[draft.earth_terminal].conductors = protective;
  for (site::Element& element : site.elements) {
    const auto* supply = site::facts<site::Supply>(element);
    if (supply != nullptr && supply->earth_offered && supply->earthing != site::Earthing::tn_c_s)
      element.conductors.add(Conductor::pe);
  }
}

// A single-phase source gives its phase to the chains that begin or end at it.
void take_phases_of_sources(Draft& draft) {
  for (std::size_t i = 0; i < draft.site.runs.size(); ++i) {
    const std::size_t chain = draft.run_plans[i].chain;
    if (chain == none) continue;
    for (const std::size_t end : {draft.site.runs[i].from.element, draft.site.runs[i].to.element}) {
      const auto phase = draft.phase_of.find(end);
      if (phase == draft.phase_of.end() || draft.site.system.phases == 1) continue;
      draft.run_plans[i].single_phase = true;
      if (!draft.chain_phases[chain].phase) draft.chain_phases[chain].phase = phase->second;
    }
  }
}

}  // namespace

void settle_conductors(Draft& draft) {
  take_phases_of_sources(draft);
  Flow flow(draft);
  flow.run();
  flow.deal_phases();
  flow.run();
  if (add_supplier_earth(draft)) Flow(draft).run();
  settle_protective(draft);
  settle_elements(draft);
}

}  // namespace linewright::input
