#include "input/read_parts.hpp"
#include "input/values.hpp"

namespace linewright::input {
namespace {

using site::InsulationMonitor;

constexpr Choice<InsulationMonitor> monitors[] = {
    {"none", InsulationMonitor::none},
    {"without alarm", InsulationMonitor::without_alarm},
    {"with alarm", InsulationMonitor::with_alarm}};

}  // namespace

void read_monitor(const Fields& fields, site::Unearthed& facts, Mistakes& mistakes) {
  facts.monitor = choice(fields.find("insulation monitor"), monitors, mistakes);
  facts.first_fault = quantity<Current>(fields.find("first fault current"), mistakes);
}

void read_unearthed(const Fields& fields, site::Unearthed& facts, Mistakes& mistakes) {
  facts.on_purpose = yes_no(fields.find("unearthed on purpose"), mistakes);
  read_monitor(fields, facts, mistakes);
}

}  // namespace linewright::input
