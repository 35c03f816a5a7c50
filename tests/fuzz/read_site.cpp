// Any bytes as a site file: reading ends in a site or in mistakes with their places, and the
// explicit form of what reads is the same site.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "findings/utf8.hpp"
#include "input/read.hpp"
#include "units/ensure.hpp"

namespace {

using namespace linewright;

void check_mistakes(const input::Reading& reading) {
  ENSURE(reading.site.has_value() == reading.mistakes.empty());
  for (const Mistake& mistake : reading.mistakes) {
    ENSURE(!mistake.message.empty() && !mistake.mend.empty());
    ENSURE(findings::is_utf8(mistake.message) && findings::is_utf8(mistake.mend));
    ENSURE(mistake.where.line >= 0 && mistake.where.column >= 0 && mistake.where.length >= 1);
  }
}

// What other parts rely on: every index leads somewhere.
void check_indices(const site::Site& site) {
  for (const site::Element& element : site.elements) {
    ENSURE(element.assembly == site::none || element.assembly < site.assemblies.size());
    ENSURE(!element.terminals.empty() && !element.designation.empty());
  }
  for (const site::Run& run : site.runs)
    for (const site::Terminal& end : {run.from, run.to}) {
      ENSURE(end.element < site.elements.size());
      ENSURE(end.terminal < site.elements[end.element].terminals.size());
    }
  for (const site::State& state : site.states) {
    for (const std::size_t source : state.running)
      ENSURE(source < site.elements.size());
    for (const site::PositionOf& each : state.positions)
      ENSURE(each.element < site.elements.size());
  }
}

void check_same(const site::Site& a, const site::Site& b) {
  ENSURE(a.elements.size() == b.elements.size() && a.runs.size() == b.runs.size());
  ENSURE(a.states.size() == b.states.size() && a.assemblies.size() == b.assemblies.size());
  for (std::size_t i = 0; i < a.elements.size(); ++i) {
    ENSURE(a.elements[i].designation == b.elements[i].designation);
    ENSURE(a.elements[i].facts.index() == b.elements[i].facts.index());
    ENSURE(a.elements[i].conductors == b.elements[i].conductors);
  }
  for (std::size_t i = 0; i < a.runs.size(); ++i) {
    ENSURE(a.runs[i].designation == b.runs[i].designation);
    ENSURE(a.runs[i].from == b.runs[i].from && a.runs[i].to == b.runs[i].to);
    ENSURE(a.runs[i].conductors == b.runs[i].conductors);
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const input::Reading reading = input::read_site(text);
  check_mistakes(reading);
  if (!reading.site) return 0;
  check_indices(*reading.site);
  const Result<std::string> expanded = input::show_expanded(text);
  ENSURE(expanded.has_value());
  const input::Reading again = input::read_site(*expanded);
  ENSURE(again.site.has_value());
  check_same(*reading.site, *again.site);
  return 0;
}
