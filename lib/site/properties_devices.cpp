// What is said of devices and of all else that is fitted.
#include <algorithm>

#include "site/properties_parts.hpp"

namespace linewright::site {
namespace {

void tell(const Residual& residual, Properties& into) {
  const auto& [current, type, delay, dc_detection] = residual;
  into.add("residual current", current)
      .add("RCD type", type)
      .add("RCD delay", delay)
      .add("6 mA DC detection", dc_detection);
}

void tell(const ClosedTransition& transition, Properties& into) {
  const auto& [check, overlap, consent] = transition;
  into.add("synchronism check", check)
      .add("overlap", overlap)
      .add("distributor's consent", consent);
}

void tell(const AutomaticTransfer& transfer, Properties& into) {
  const auto& [priority, drops_out, picks_up, returns_after] = transfer;
  into.add("priority", priority)
      .add("drops out below", drops_out)
      .add("picks up above", picks_up)
      .add("returns after", returns_after);
}

std::vector<std::string> throws_of(const std::vector<Throw>& throws) {
  std::vector<std::string> words;
  for (const auto& [position, terminal] : throws)
    words.emplace_back(position).append(terminal.empty() ? " (off)" : " to " + terminal);
  return words;
}

std::string poles_of(const Poles& poles) {
  const auto& [line_poles, neutral, written] = poles;
  return std::to_string(line_poles) + (neutral ? "P+N" : "P");
}

}  // namespace

void tell(const Busbar& busbar, const ElementNames&, Properties& into) {
  const auto& [rated_current] = busbar;
  into.add("rated current", rated_current);
}

void tell(const MainEarthingTerminal& terminal, const ElementNames&, Properties& into) {
  const auto& [conductor, bonding] = terminal;
  into.add("earthing conductor", conductor);
  for (const auto& [to, cross_section] : bonding)
    into.add("bonds " + to, cross_section ? print(*cross_section) : std::string("size not given"));
}

void tell(const Device& device, const ElementNames&, Properties& into) {
  const auto& [kind, poles, rated_current, curve, breaking_capacity, residual, direction, rest,
               operation, latching, feedback, without_power, isolates, lockable, category,
               neutral_timing, break_before_make, closed_transition, automatic, withstand, throws,
               driven_by] = device;
  into.add("kind", kind).add("rated current", rated_current).add("curve", curve);
  if (poles) into.add("poles", poles_of(*poles));
  into.add("breaking capacity", breaking_capacity);
  if (residual) tell(*residual, into);
  into.add("direction", direction)
      .add("at rest", rest)
      .add("operated", operation)
      .add("latching", latching)
      .add("feedback", feedback)
      .add("without power", without_power)
      .add("isolates", isolates)
      .add("lockable", lockable)
      .add("category", category)
      .add("neutral timing", neutral_timing)
      .add("breaks before it makes", break_before_make);
  if (closed_transition) tell(*closed_transition, into);
  if (automatic) tell(*automatic, into);
  into.add("withstands", withstand).add("throws", throws_of(throws)).add("driven by", driven_by);
}

void tell(const Bond& bond, const ElementNames& names, Properties& into) {
  const auto& [contact, rest, closed_in, proved_by, driven_by, closes_within, cross_section,
               withstand, withstand_time, power_contact] = bond;
  std::vector<std::string> states = closed_in;
  std::ranges::sort(states);
  into.add("contact", contact).add("at rest", rest).add("closed in", states);
  if (proved_by) {
    const std::vector<std::string> proofs = names_of(*proved_by, names);
    if (proofs.empty())
      into.add("proved by", std::string("nothing"));
    else
      into.add("proved by", proofs);
  }
  into.add("driven by", driven_by)
      .add("closes within", closes_within)
      .add("size", cross_section)
      .add("withstands", withstand)
      .add("withstands for", withstand_time)
      .add("power contact", power_contact);
}

void tell(const PenSplit&, const ElementNames&, Properties&) {}

void tell(const Electrode& electrode, const ElementNames&, Properties& into) {
  const auto& [resistance, type, measured] = electrode;
  into.add("resistance", resistance).add("type", type).add("measured", measured);
}

void tell(const Connector& connector, const ElementNames&, Properties& into) {
  const auto& [inlet, rated_current] = connector;
  into.add("inlet", inlet).add("rated current", rated_current);
}

void tell(const Meter& meter, const ElementNames&, Properties& into) {
  const auto& [two_way, guards, current_transformers] = meter;
  into.add("two-way", two_way)
      .add("guards", guards)
      .add("current transformers", current_transformers);
}

void tell(const SurgeProtector& protector, const ElementNames&, Properties& into) {
  const auto& [type, form, voltage, fuse, lead] = protector;
  into.add("type", type)
      .add("form", form)
      .add("continuous voltage", voltage)
      .add("backup fuse", fuse)
      .add("lead length", lead);
}

void tell(const Transformer& transformer, const ElementNames&, Properties& into) {
  const auto& [power] = transformer;
  into.add("power", power);
}

}  // namespace linewright::site
