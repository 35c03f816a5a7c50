// What is said of circuits and of what they feed.
#include "site/properties_parts.hpp"

namespace linewright::site {
namespace {

void tell(const ChargePoint& charging, Properties& into) {
  const auto& [points, each_protected, managed, meter, on_loss, in_island, island_limit, gives_back,
               vehicle, reach, electrode_clear, touch_voltage, limits_unbalance] = charging;
  into.add("charging points", points)
      .add("each point protected", each_protected)
      .add("charging managed", managed)
      .add("managed by", meter)
      .add("on loss of the meter", on_loss)
      .add("charging in island", in_island)
      .add("charging limit in island", island_limit)
      .add("gives back", gives_back)
      .add("vehicle", vehicle)
      .add("reach", reach)
      .add("electrode clear", electrode_clear)
      .add("touch voltage", touch_voltage)
      .add("limits unbalance", limits_unbalance);
}

void tell(const HeatPump& pump, Properties& into) {
  const auto& [heater, heater_in_island, locked_in_island, locked_by, lock_rests_blocked, monitor,
               isolator] = pump;
  into.add("heater", heater)
      .add("heater in island", heater_in_island)
      .add("locked in island", locked_in_island)
      .add("locked by", locked_by)
      .add("lock rests blocked", lock_rests_blocked)
      .add("phase monitor", monitor)
      .add("local isolator", isolator);
}

}  // namespace

void tell(const LoadGroup& load, const ElementNames&, Properties& into) {
  const auto& [service, use, power, power_factor, diversity, start_factor, drive, rcd_type,
               dc_leakage, leakage, outdoors, dc_detection, pen_detection, own_electrode, items,
               class_two, priority, shed, starts_after, dwelling, second_earth, fire_risk, charging,
               heat_pump] = load;
  into.add("power", power)
      .add("use", use)
      .add("service", service)
      .add("power factor", power_factor)
      .add("diversity", diversity)
      .add("start factor", start_factor)
      .add("drive", drive)
      .add("declared RCD type", rcd_type)
      .add("DC leakage", dc_leakage)
      .add("leakage", leakage)
      .add("outdoors", outdoors)
      .add("6 mA DC detection", dc_detection)
      .add("PEN detection", pen_detection)
      .add("own electrode", own_electrode)
      .add("items", items)
      .add("class II", class_two)
      .add("priority", priority)
      .add("shed in island", shed)
      .add("starts after", starts_after)
      .add("dwelling", dwelling)
      .add("second earth", second_earth)
      .add("fire risk", fire_risk);
  if (charging) tell(*charging, into);
  if (heat_pump) tell(*heat_pump, into);
}

}  // namespace linewright::site
