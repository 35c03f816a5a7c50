// What is said of sources and of what stores or makes their energy.
#include "site/properties_parts.hpp"

namespace linewright::site {
namespace {

void tell(const Unearthed& unearthed, Properties& into) {
  const auto& [on_purpose, monitor, first_fault] = unearthed;
  into.add("unearthed on purpose", on_purpose)
      .add("insulation monitor", monitor)
      .add("first fault current", first_fault);
}

template <class Q>
void tell(const std::string& name, const TripSetting<Q>& setting, Properties& into) {
  const auto& [at, within] = setting;
  into.add(name, at).add(name + " within", within);
}

void tell(const InterfaceProtection& protection, Properties& into) {
  const auto& [certificate, undervoltage, overvoltage, underfrequency, overfrequency, detection,
               method, reconnects, relay] = protection;
  into.add("protection certificate", certificate);
  tell("undervoltage", undervoltage, into);
  tell("overvoltage", overvoltage, into);
  tell("underfrequency", underfrequency, into);
  tell("overfrequency", overfrequency, into);
  into.add("detects island in", detection)
      .add("detects island by", method)
      .add("reconnects after", reconnects)
      .add("external relay", relay);
}

}  // namespace

void tell(const Supply& supply, const ElementNames&, Properties& into) {
  const auto& [earthing, most, least, loop, fuse, curve, meter_point, earth_offered, unearthed,
               rotation] = supply;
  into.add("earthing", earthing)
      .add("greatest fault current", most)
      .add("least fault current", least)
      .add("external loop", loop)
      .add("service fuse", fuse)
      .add("service fuse curve", curve)
      .add("meter point", meter_point)
      .add("earth offered", earth_offered)
      .add("rotation", rotation);
  tell(unearthed, into);
}

void tell(const Generator& generator, const ElementNames&, Properties& into) {
  const auto& [model, power, neutral, winding, fixed, own_rcd, reactance, fault_current, fault_time,
               waveform, takes_back, relay, cool_down, excitation, parallel, unearthed, rotation,
               lines_tied] = generator;
  into.add("model", model)
      .add("power", power)
      .add("neutral", neutral)
      .add("winding", winding)
      .add("fixed", fixed)
      .add("own RCD", own_rcd)
      .add("reactance", reactance)
      .add("fault current", fault_current)
      .add("fault current lasts", fault_time)
      .add("waveform", waveform)
      .add("takes power back", takes_back)
      .add("reverse power relay", relay)
      .add("cool down", cool_down)
      .add("excitation", excitation)
      .add("parallel", parallel)
      .add("rotation", rotation)
      .add("lines tied", lines_tied);
  tell(unearthed, into);
}

void tell(const Inverter& inverter, const ElementNames& names, Properties& into) {
  const auto& [model, hybrid, forming, backup_side, power, surge, surge_time, pass_through,
               fault_current, fault_time, island_neutral, bond, bond_rests_closed, separation,
               dc_earthing, rcd_type, island_rcd_type, leakage, no_dc_fault, zero_feed,
               frequency_watt, grid_code, protection, ac_coupled, rotation, lines_tied, waveform,
               synchronises_at, unearthed] = inverter;
  into.add("model", model)
      .add("hybrid", hybrid)
      .add("grid", forming)
      .add("backup side", backup_side)
      .add("power", power)
      .add("surge", surge)
      .add("surge lasts", surge_time)
      .add("pass through", pass_through)
      .add("fault current", fault_current)
      .add("fault current lasts", fault_time)
      .add("neutral in island", island_neutral)
      .add("bond", bond)
      .add("bond rests closed", bond_rests_closed)
      .add("separation", separation)
      .add("DC side", dc_earthing)
      .add("RCD type", rcd_type)
      .add("RCD type in island", island_rcd_type)
      .add("leakage", leakage)
      .add("no DC fault current", no_dc_fault)
      .add("zero feed to generator", zero_feed)
      .add("frequency watt", frequency_watt)
      .add("grid code", grid_code);
  if (protection) tell(*protection, into);
  into.add("AC-coupled PV", ac_coupled)
      .add("rotation", rotation)
      .add("lines tied", lines_tied)
      .add("waveform", waveform)
      .add("synchronises at", names_of(synchronises_at, names));
  tell(unearthed, into);
}

void tell(const Battery& battery, const ElementNames&, Properties& into) {
  const auto& [model, units, energy, nominal, least, most, discharge, charge, fault, chemistry,
               usable] = battery;
  into.add("model", model)
      .add("units", units)
      .add("energy", energy)
      .add("voltage", nominal)
      .add("least voltage", least)
      .add("greatest voltage", most)
      .add("discharge current", discharge)
      .add("charge current", charge)
      .add("fault current", fault)
      .add("chemistry", chemistry)
      .add("usable share", usable);
}

void tell(const PvArray& array, const ElementNames&, Properties& into) {
  const auto& [model, strings, modules, power, open_voltage, short_current, factor, fuse, coldest] =
      array;
  into.add("model", model)
      .add("strings", strings)
      .add("modules", modules)
      .add("power", power)
      .add("open voltage", open_voltage)
      .add("short-circuit current", short_current)
      .add("voltage factor", factor)
      .add("module fuse", fuse)
      .add("coldest", coldest);
}

}  // namespace linewright::site
