#include "units/kinds.hpp"

#include <array>

namespace linewright::units {
namespace {

constexpr double never = -1.0;

// Signs that look alike are read alike: the ohm and micro signs beside the Greek letters.
// Where a unit begins to be printed follows how the trade speaks: 30 mA but 0.4 s, 1000 V but 20
// kV, 0.35 ohm, and cable lengths in metres however long (common practice, no source).

constexpr std::array<std::string_view, 2> microampere{"uA", "\u03bcA"};
constexpr UnitName current_units[] = {
    {"µA", microampere, 1e-6, 0}, {"mA", {}, 1e-3, 1}, {"A", {}, 1, 1}, {"kA", {}, 1e3, 1}};
constexpr Kind current{"a current", "'63 A' or '30 mA'", Sign::not_negative, current_units};

constexpr UnitName voltage_units[] = {{"mV", {}, 1e-3, 0}, {"V", {}, 1, 1}, {"kV", {}, 1e3, 3}};
constexpr Kind voltage{"a voltage", "'230 V'", Sign::not_negative, voltage_units};

constexpr std::array<std::string_view, 4> milliohm{"m\u2126", "mohm", "mOhm", "mR"};
constexpr std::array<std::string_view, 5> plain_ohm{"\u2126", "ohm", "Ohm", "ohms", "R"};
constexpr std::array<std::string_view, 4> kiloohm{"k\u2126", "kohm", "kOhm", "kR"};
constexpr std::array<std::string_view, 4> megaohm{"M\u2126", "Mohm", "MOhm", "MR"};
constexpr UnitName resistance_units[] = {{"mΩ", milliohm, 1e-3, 0},
                                         {"Ω", plain_ohm, 1, 0.1},
                                         {"kΩ", kiloohm, 1e3, 1},
                                         {"MΩ", megaohm, 1e6, 1}};
constexpr Kind resistance{"a resistance", "'0.35 Ω' or '38 ohm'", Sign::not_negative,
                          resistance_units};

constexpr UnitName length_units[] = {
    {"mm", {}, 1e-3, 0}, {"cm", {}, 1e-2, never}, {"m", {}, 1, 0.1}, {"km", {}, 1e3, never}};
constexpr Kind length{"a length", "'14 m'", Sign::not_negative, length_units};

constexpr std::array<std::string_view, 4> square_millimetre{"mm2", "mm^2", "sqmm", "sq mm"};
constexpr std::array<std::string_view, 2> square_metre{"m2", "m^2"};
constexpr UnitName area_units[] = {{"mm²", square_millimetre, 1e-6, 0},
                                   {"m²", square_metre, 1, never}};
constexpr Kind area{"a cross-section", "'16 mm²' or '16 mm2'", Sign::positive, area_units};

constexpr std::array<std::string_view, 2> minutes{"minute", "minutes"};
constexpr std::array<std::string_view, 2> hours{"hour", "hours"};
constexpr UnitName time_units[] = {
    {"ms", {}, 1e-3, 0}, {"s", {}, 1, 0.1}, {"min", minutes, 60, 1}, {"h", hours, 3600, 1}};
constexpr Kind time{"a time", "'0.4 s' or '40 ms'", Sign::not_negative, time_units};

constexpr UnitName frequency_units[] = {{"Hz", {}, 1, 0}, {"kHz", {}, 1e3, 1}};
constexpr Kind frequency{"a frequency", "'50 Hz'", Sign::positive, frequency_units};

constexpr std::array<std::string_view, 1> peak_watt{"Wp"};
constexpr std::array<std::string_view, 1> peak_kilowatt{"kWp"};
constexpr std::array<std::string_view, 1> peak_megawatt{"MWp"};
constexpr UnitName active_units[] = {
    {"W", peak_watt, 1, 0}, {"kW", peak_kilowatt, 1e3, 1}, {"MW", peak_megawatt, 1e6, 1}};
constexpr Kind active_power{"an active power", "'5 kW' or '4.9 kWp'", Sign::not_negative,
                            active_units};

constexpr UnitName apparent_units[] = {{"VA", {}, 1, 0}, {"kVA", {}, 1e3, 1}, {"MVA", {}, 1e6, 1}};
constexpr Kind apparent_power{"an apparent power", "'25 kVA'", Sign::not_negative, apparent_units};

constexpr UnitName reactive_units[] = {{"var", {}, 1, 0}, {"kvar", {}, 1e3, 1}};
constexpr Kind reactive_power{"a reactive power", "'3 kvar'", Sign::any, reactive_units};

constexpr UnitName energy_units[] = {
    {"J", {}, 1, never}, {"Wh", {}, 3600, 0}, {"kWh", {}, 3.6e6, 1}, {"MWh", {}, 3.6e9, 1}};
constexpr Kind energy{"an energy", "'6.4 kWh'", Sign::not_negative, energy_units};

constexpr UnitName capacity_units[] = {
    {"As", {}, 1, never}, {"mAh", {}, 3.6, 0}, {"Ah", {}, 3600, 1}, {"kAh", {}, 3.6e6, 3}};
constexpr Kind capacity{"a battery capacity", "'100 Ah'", Sign::not_negative, capacity_units};

constexpr std::array<std::string_view, 3> celsius{"C", "degC", "℃"};
constexpr UnitName celsius_units[] = {{"°C", celsius, 1, 0}};
constexpr Kind temperature{"a temperature", "'30 °C'", Sign::any, celsius_units};

constexpr UnitName kelvin_units[] = {{"K", {}, 1, 0}};
constexpr Kind difference{"a temperature difference", "'40 K'", Sign::any, kelvin_units};

constexpr std::array<std::string_view, 4> ohm_mm2{"Ω mm²/m", "ohm mm2/m", "Ω·mm2/m", "ohm·mm2/m"};
constexpr std::array<std::string_view, 3> ohm_metre{"Ωm", "ohm m", "Ω m"};
constexpr UnitName resistivity_units[] = {{"Ω·mm²/m", ohm_mm2, 1e-6, 0}, {"Ω·m", ohm_metre, 1, 1}};
constexpr Kind resistivity{"a resistivity", "'0.0225 Ω·mm²/m' or '100 Ω·m'", Sign::positive,
                           resistivity_units};

constexpr std::array<std::string_view, 1> ohm_kilometre{"ohm/km"};
constexpr std::array<std::string_view, 1> milliohm_metre{"mohm/m"};
constexpr std::array<std::string_view, 1> whole_ohm_metre{"ohm/m"};
constexpr UnitName per_length_units[] = {{"mΩ/m", milliohm_metre, 1e-3, 0},
                                         {"Ω/km", ohm_kilometre, 1e-3, never},
                                         {"Ω/m", whole_ohm_metre, 1, 1}};
constexpr Kind per_length{"a resistance per length", "'1.15 Ω/km' or '1.15 mΩ/m'",
                          Sign::not_negative, per_length_units};

constexpr std::array<std::string_view, 2> microfarad{"uF", "\u03bcF"};
constexpr UnitName capacitance_units[] = {
    {"nF", {}, 1e-9, 0}, {"µF", microfarad, 1e-6, 1}, {"F", {}, 1, 1}};
constexpr Kind capacitance{"a capacitance", "'10 µF'", Sign::not_negative, capacitance_units};

constexpr std::array<std::string_view, 2> a2s{"A2s", "A^2s"};
// "kA²s" is left out: by the SI it is 1 000 000 A²s, but data sheets also use it for 1 000 A²s.
constexpr UnitName let_through_units[] = {{"A²s", a2s, 1, 0}};
constexpr Kind let_through{"a let-through energy", "'15000 A²s'", Sign::not_negative,
                           let_through_units};

constexpr const Kind* kinds[] = {
    &current,     &voltage,      &resistance,     &length,         &area,        &time,
    &frequency,   &active_power, &apparent_power, &reactive_power, &energy,      &capacity,
    &temperature, &difference,   &resistivity,    &per_length,     &capacitance, &let_through};

}  // namespace

std::span<const Kind* const> all_kinds() {
  return kinds;
}

template <>
const Kind& kind_of<Current>() {
  return current;
}
template <>
const Kind& kind_of<Voltage>() {
  return voltage;
}
template <>
const Kind& kind_of<Resistance>() {
  return resistance;
}
template <>
const Kind& kind_of<Length>() {
  return length;
}
template <>
const Kind& kind_of<Area>() {
  return area;
}
template <>
const Kind& kind_of<Time>() {
  return time;
}
template <>
const Kind& kind_of<Frequency>() {
  return frequency;
}
template <>
const Kind& kind_of<ActivePower>() {
  return active_power;
}
template <>
const Kind& kind_of<ApparentPower>() {
  return apparent_power;
}
template <>
const Kind& kind_of<ReactivePower>() {
  return reactive_power;
}
template <>
const Kind& kind_of<Energy>() {
  return energy;
}
template <>
const Kind& kind_of<Capacity>() {
  return capacity;
}
template <>
const Kind& kind_of<Celsius>() {
  return temperature;
}
template <>
const Kind& kind_of<TemperatureDifference>() {
  return difference;
}
template <>
const Kind& kind_of<Resistivity>() {
  return resistivity;
}
template <>
const Kind& kind_of<ResistancePerLength>() {
  return per_length;
}
template <>
const Kind& kind_of<Capacitance>() {
  return capacitance;
}
template <>
const Kind& kind_of<LetThrough>() {
  return let_through;
}

}  // namespace linewright::units
