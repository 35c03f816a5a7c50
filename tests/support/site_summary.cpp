// The summary of a site, value by value.
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

#include <fmt/core.h>

#include "support/site_from.hpp"
#include "units/kinds.hpp"

namespace linewright::tests {
namespace {

using namespace site;

// One line of "key=value" parts; values that are not given are left out.
class Parts {
 public:
  explicit Parts(std::string head) : text_(std::move(head)) {}

  template <class T>
  Parts& add(const char* key, const T& value) {
    text_ += fmt::format(" {}={}", key, show(value));
    return *this;
  }
  template <class T>
  Parts& add(const char* key, const std::optional<T>& value) {
    return value ? add(key, *value) : *this;
  }
  std::string text() const { return text_; }

 private:
  template <class T>
  static std::string show(const T& value) {
    if constexpr (std::is_same_v<T, std::string>) {
      return fmt::format("'{}'", value);
    } else if constexpr (std::is_same_v<T, bool>) {
      return value ? "yes" : "no";
    } else if constexpr (std::is_enum_v<T>) {
      return std::to_string(static_cast<int>(value));
    } else if constexpr (std::is_arithmetic_v<T>) {
      return fmt::format("{}", value);
    } else {
      return fmt::format("{}", units::to_si(value));
    }
  }
  std::string text_;
};

std::string list(const std::vector<std::string>& words) {
  std::string text = "[";
  for (const std::string& word : words)
    text += word + ";";
  return text + "]";
}
std::string unearthed(const Unearthed& u) {
  return Parts("")
      .add("it", u.on_purpose)
      .add("monitor", u.monitor)
      .add("first", u.first_fault)
      .text();
}

std::string charging(const std::optional<ChargePoint>& c) {
  if (!c) return {};
  return Parts("")
      .add("points", c->points)
      .add("each", c->each_protected)
      .add("managed", c->managed)
      .add("meter", c->meter)
      .add("loss", c->on_loss)
      .add("island", c->in_island)
      .add("limit", c->island_limit)
      .add("back", c->gives_back)
      .add("vehicle", c->vehicle)
      .add("reach", c->reach)
      .add("clear", c->electrode_clear)
      .add("touch", c->touch_voltage)
      .add("unbalance", c->limits_unbalance)
      .text();
}

std::string list(const std::vector<std::size_t>& numbers) {
  std::string text = "[";
  for (const std::size_t number : numbers)
    text += std::to_string(number) + ";";
  return text + "]";
}

template <class Q>
std::string trip(const TripSetting<Q>& setting) {
  return Parts("").add("at", setting.at).add("within", setting.within).text();
}

std::string protection(const std::optional<InterfaceProtection>& p) {
  if (!p) return {};
  return Parts("")
      .add("certificate", p->certificate)
      .add("u<", trip(p->undervoltage))
      .add("u>", trip(p->overvoltage))
      .add("f<", trip(p->underfrequency))
      .add("f>", trip(p->overfrequency))
      .add("island", p->island_detection)
      .add("method", p->island_method)
      .add("back", p->reconnects_after)
      .add("relay", p->external_relay)
      .text();
}

std::string transfer(const Device& d) {
  Parts parts("");
  if (d.closed_transition)
    parts.add("synchronism", d.closed_transition->synchronism_check)
        .add("overlap", d.closed_transition->overlap)
        .add("consent", d.closed_transition->distributor_consent);
  if (d.automatic)
    parts.add("priority", list(d.automatic->priority))
        .add("drops", d.automatic->drops_out)
        .add("picks", d.automatic->picks_up)
        .add("returns", d.automatic->returns_after);
  return parts.text();
}

struct Describe {
  std::string operator()(const Busbar& b) const {
    return Parts("busbar").add("rated", b.rated_current).text();
  }
  std::string operator()(const MainEarthingTerminal& m) const {
    Parts parts("main earthing terminal");
    parts.add("conductor", m.earthing_conductor);
    for (const BondingConductor& each : m.bonding)
      parts.add("bonds", each.to).add("size", each.cross_section);
    return parts.text();
  }
  std::string operator()(const Supply& s) const {
    return Parts("supply")
        .add("earthing", s.earthing)
        .add("max", s.fault_current_max)
        .add("min", s.fault_current_min)
        .add("loop", s.external_loop)
        .add("fuse", s.service_fuse)
        .add("it", unearthed(s.unearthed))
        .add("rotation", s.rotation)
        .add("curve", s.service_fuse_curve)
        .add("meter", s.meter_point)
        .add("earth", s.earth_offered)
        .text();
  }
  std::string operator()(const Generator& g) const {
    return Parts("generator")
        .add("power", g.power)
        .add("neutral", g.neutral)
        .add("winding", g.winding)
        .add("fixed", g.fixed)
        .add("rcd", g.own_rcd)
        .add("it", unearthed(g.unearthed))
        .add("x", g.subtransient_reactance)
        .add("back", g.takes_power_back)
        .add("relay", g.reverse_power_relay)
        .add("cool", g.cool_down)
        .add("rotation", g.rotation)
        .add("tied", g.lines_tied)
        .add("model", g.model)
        .add("excitation", g.excitation)
        .add("parallel", g.parallel)
        .text();
  }
  std::string operator()(const Inverter& i) const {
    return Parts("inverter")
        .add("hybrid", i.hybrid)
        .add("it", unearthed(i.unearthed))
        .add("forming", i.forming)
        .add("backup", i.has_backup_side)
        .add("power", i.power)
        .add("surge", i.surge)
        .add("for", i.surge_time)
        .add("pass", i.pass_through)
        .add("fault", i.fault_current)
        .add("for", i.fault_time)
        .add("neutral", i.island_neutral)
        .add("bond", i.bond)
        .add("rest", i.bond_rests_closed)
        .add("separation", i.separation)
        .add("rcd", i.declared_rcd_type)
        .add("nodc", i.no_dc_fault_current)
        .add("zero", i.zero_feed_to_generator)
        .add("watt", i.frequency_watt)
        .add("code", i.grid_code)
        .add("protection", protection(i.protection))
        .add("coupled", i.ac_coupled)
        .add("rotation", i.rotation)
        .add("tied", i.lines_tied)
        .add("wave", i.waveform)
        .add("model", i.model)
        .add("dc", i.dc_earthing)
        .add("at", list(i.synchronises_at))
        .text();
  }
  std::string operator()(const Battery& b) const {
    return Parts("battery")
        .add("energy", b.energy)
        .add("v", b.nominal_voltage)
        .add("min", b.voltage_min)
        .add("max", b.voltage_max)
        .add("out", b.discharge_current)
        .add("in", b.charge_current)
        .add("fault", b.fault_current)
        .add("kind", b.chemistry)
        .add("usable", b.usable)
        .add("model", b.model)
        .add("units", b.units)
        .text();
  }
  std::string operator()(const PvArray& p) const {
    return Parts("pv")
        .add("strings", p.strings)
        .add("modules", p.modules_per_string)
        .add("power", p.power)
        .add("voc", p.module_open_voltage)
        .add("isc", p.module_short_current)
        .add("factor", p.voltage_factor)
        .add("fuse", p.module_fuse_max)
        .add("coldest", p.coldest)
        .add("model", p.model)
        .text();
  }
  std::string operator()(const Device& d) const {
    Parts parts("device");
    parts.add("kind", d.kind)
        .add("rated", d.rated_current)
        .add("curve", d.curve)
        .add("breaks", d.breaking_capacity)
        .add("way", d.direction)
        .add("rest", d.rest)
        .add("by", d.operation)
        .add("latching", d.latching)
        .add("feedback", d.feedback)
        .add("unpowered", d.without_power)
        .add("isolates", d.isolates)
        .add("lock", d.lockable)
        .add("category", d.category)
        .add("timing", d.neutral_timing)
        .add("bbm", d.break_before_make)
        .add("driven", d.driven_by)
        .add("transfer", transfer(d))
        .add("withstand", d.withstand);
    if (d.poles)
      parts.add("poles", d.poles->line_poles)
          .add("n", d.poles->neutral)
          .add("as", d.poles->written);
    if (d.residual)
      parts.add("residual", d.residual->operating_current)
          .add("type", d.residual->type)
          .add("delay", d.residual->delay)
          .add("dc", d.residual->dc_detection_6ma);
    for (const Throw& each : d.throws)
      parts.add("throw", each.position + ">" + each.terminal);
    return parts.text();
  }
  std::string operator()(const Bond& b) const {
    Parts parts("bond");
    parts.add("contact", b.contact)
        .add("rest", b.rest)
        .add("in", list(b.closed_in))
        .add("driven", b.driven_by)
        .add("size", b.cross_section)
        .add("within", b.closes_within)
        .add("withstand", b.withstand)
        .add("for", b.withstand_time)
        .add("power", b.power_contact);
    if (b.proved_by) parts.add("proved", list(*b.proved_by));
    return parts.text();
  }
  std::string operator()(const PenSplit&) const { return "pen split"; }
  std::string operator()(const Electrode& e) const {
    return Parts("electrode")
        .add("r", e.resistance)
        .add("type", e.type)
        .add("measured", e.measured)
        .text();
  }
  std::string operator()(const Connector& c) const {
    return Parts("connector").add("inlet", c.inlet).add("rated", c.rated_current).text();
  }
  std::string operator()(const Meter& m) const {
    return Parts("meter")
        .add("two", m.two_way)
        .add("guards", m.guards)
        .add("ct", m.current_transformers)
        .text();
  }
  std::string operator()(const SurgeProtector& s) const {
    return Parts("spd")
        .add("type", s.type)
        .add("form", s.form)
        .add("uc", s.continuous_voltage)
        .add("fuse", s.backup_fuse)
        .add("lead", s.lead_length)
        .text();
  }
  std::string operator()(const Transformer& t) const {
    return Parts("transformer").add("power", t.power).text();
  }
  std::string operator()(const LoadGroup& l) const {
    return Parts("load")
        .add("service", l.service)
        .add("use", l.use)
        .add("power", l.power)
        .add("pf", l.power_factor)
        .add("diversity", l.diversity)
        .add("start", l.start_factor)
        .add("drive", l.drive)
        .add("rcd", l.declared_rcd_type)
        .add("dc", l.dc_leakage)
        .add("leak", l.leakage)
        .add("out", l.outdoors)
        .add("dc6", l.dc_detection_6ma)
        .add("pen", l.pen_detection)
        .add("rod", l.own_electrode)
        .add("items", l.items)
        .add("class2", l.class_two)
        .add("priority", l.priority)
        .add("shed", l.shed_in_island)
        .add("after", l.starts_after)
        .add("dwelling", l.dwelling)
        .add("charging", charging(l.charging))
        .text();
  }
};

std::string end_of(const Site& site, const Terminal& end) {
  const Element& element = site.elements.at(end.element);
  return element.designation + ":" + element.terminals.at(end.terminal);
}

std::string position(const Site& site, const PositionOf& p) {
  return fmt::format(" {}{}{}={}", site.elements.at(p.element).designation,
                     p.part.empty() ? "" : ":", p.part, p.position);
}

std::string switching_place(const std::optional<SwitchingPlace>& place) {
  if (!place) return {};
  return Parts("").add("at", place->at).add("in", place->place).add("opens", place->opens).text();
}

std::string permit(const Permit& p) {
  Parts parts("permit");
  for (const std::string* each :
       {&p.customer, &p.property, &p.installer, &p.installer_registration, &p.designer_licence,
        &p.contracted_demand, &p.ownership_boundary, &p.metering_concept, &p.upstream_coordination})
    parts.add("word", *each);
  if (p.export_limit)
    parts.add("free", p.export_limit->none)
        .add("limit", p.export_limit->limit)
        .add("by", p.export_limit->by);
  return parts.add("isolation", switching_place(p.isolation_point))
      .add("emergency", switching_place(p.emergency))
      .add("no emergency", p.no_emergency)
      .add("standards", list(p.standards))
      .add("operation", list(p.operation))
      .add("clearances", list(p.clearances))
      .text();
}

std::string head(const Site& site) {
  const Title& t = site.title;
  Parts parts("site");
  for (const std::string* each : {&t.site_name, &t.owner, &t.site_address, &t.drawing_number,
                                  &t.date, &t.status, &t.creator, &t.approver, &t.language})
    parts.add("title", *each);
  parts.add("paper", fmt::format("{}{}", t.paper.size == site::PaperSize::a4 ? "A4" : "A3",
                                 t.paper.turn == site::PaperTurn::portrait ? " portrait" : ""));
  for (const Title::Revision& r : t.revisions)
    parts.add("revision", list({r.index, r.date, r.change, r.by, r.approved}));
  parts.add("notes", list(t.notes))
      .add("profile", site.profile)
      .add("phases", site.system.phases)
      .add("u0", site.system.line_to_earth)
      .add("u", site.system.line_to_line)
      .add("f", site.system.frequency)
      .add("system", site.system.written);
  return parts.text() + "\n" + permit(site.permit) + "\n";
}

std::string run_line(const Site& site, const Run& run) {
  Parts parts(fmt::format("run {} {} -> {} ({})", run.designation, end_of(site, run.from),
                          end_of(site, run.to), words(run.conductors)));
  if (run.cable) {
    const Cable& c = *run.cable;
    parts.add("written", c.written)
        .add("cores", c.cores)
        .add("carries", c.carries)
        .add("crossed", words(c.crossed))
        .add("size", c.cross_section)
        .add("pe", c.earth_cross_section)
        .add("of", c.material)
        .add("in", c.insulation)
        .add("length", c.length)
        .add("method", c.method)
        .add("double", c.double_insulated);
  }
  return parts.text() + "\n";
}

}  // namespace

std::string summary(const Site& site) {
  std::string text = head(site);
  for (const Assembly& a : site.assemblies)
    text += Parts("assembly " + a.designation)
                .add("name", a.name)
                .add("kind", a.kind)
                .add("service", a.service)
                .add("insulating", a.insulating)
                .add("indicator", a.indicator)
                .add("interior", a.interior)
                .text() +
            "\n";
  for (const Element& e : site.elements)
    text += fmt::format("{} '{}' in {} ({}) {} {}\n", e.designation, e.name,
                        e.assembly == none ? "-" : site.assemblies.at(e.assembly).designation,
                        words(e.conductors), list(e.terminals), std::visit(Describe{}, e.facts));
  for (const Run& run : site.runs)
    text += run_line(site, run);
  for (const State& s : site.states) {
    text += Parts("state " + s.name).add("kind", s.kind).add("running", list(s.running)).text();
    for (const PositionOf& p : s.positions)
      text += position(site, p);
    text += "\n";
  }
  for (const Interlock& i : site.interlocks) {
    text += Parts("interlock").add("by", i.means).text();
    for (const PositionOf& p : i.never_together)
      text += position(site, p);
    text += "\n";
  }
  for (const SynchronisingSet& s : site.synchronising_sets)
    text += "synchronised " + list(s.sources) + "\n";
  for (const SignalLink& s : site.signals)
    text += Parts("signal " + s.designation)
                .add("kind", s.kind)
                .add("protocol", s.protocol)
                .add("devices", list(s.devices))
                .add("master", s.master)
                .add("ends", list(s.terminated_at))
                .add("loss", s.on_loss)
                .text() +
            "\n";
  return text;
}

}  // namespace linewright::tests
