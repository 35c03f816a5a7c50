// Procedures as JSON, for other programs.
#include <fmt/core.h>
#include <fmt/format.h>

#include "documents/procedure.hpp"
#include "findings/json.hpp"

namespace linewright::documents {
namespace {

using findings::json_string;

template <class T, class Write>
std::string array(const std::vector<T>& items, std::string_view indent, Write write) {
  if (items.empty()) return "[]";
  std::string text = "[";
  for (std::size_t i = 0; i < items.size(); ++i)
    text += fmt::format("{}\n{}  {}", i == 0 ? "" : ",", indent, write(items[i]));
  return fmt::format("{}\n{}]", text, indent);
}

std::string_view result_word(ProcedureResult result) {
  switch (result) {
    case ProcedureResult::ready:
      return "ready";
    case ProcedureResult::open:
      return "open";
    case ProcedureResult::impossible:
      return "impossible";
    case ProcedureResult::not_decided:
      return "not decided";
  }
  return "";
}

std::string live(const LiveParts& parts) {
  std::string fed;
  for (const FedBoards& one : parts.fed)
    fed += fmt::format("{}{{\"source\": {}, \"boards\": {}}}", fed.empty() ? "" : ", ",
                       json_string(one.source), findings::json_strings(one.places));
  return fmt::format("{{\"fed\": [{}], \"leads\": {}, \"dead\": {}}}", fed,
                     findings::json_strings(parts.leads), findings::json_strings(parts.dead));
}

std::string step_json(const ProcedureStep& step) {
  return fmt::format(
      "{{\"does\": {}, \"who\": {}, \"by_itself\": {}, \"before\": {}, \"after\": {}, "
      "\"verify\": {}, \"mind\": {}}}",
      json_string(step.does), json_string(step.who), findings::json_strings(step.by_itself),
      live(step.before), live(step.after), findings::json_strings(step.verify),
      findings::json_strings(step.cautions));
}

std::string lock_json(const LockRow& lock) {
  return fmt::format("{{\"device\": {}, \"place\": {}, \"holds_off\": {}}}",
                     json_string(lock.device), json_string(lock.place),
                     findings::json_strings(lock.holds_off));
}

std::string dead_json(const DeadWork& dead) {
  if (dead.part.empty()) return "null";
  return fmt::format(
      "{{\"part\": {}, \"locks\": {}, \"keep_from_starting\": {}, \"wait\": {}, "
      "\"prove_dead\": {}, \"stays_alive\": {}}}",
      json_string(dead.part), array(dead.locks, "    ", lock_json),
      findings::json_strings(dead.kept_off), findings::json_strings(dead.waits),
      findings::json_strings(dead.prove_dead), findings::json_strings(dead.stays_alive));
}

std::string procedure_json(const Procedure& procedure) {
  const ProcedureRequest& request = procedure.request;
  return fmt::format(
      "{{\n    \"purpose\": {},\n    \"from\": {},\n    \"to\": {},\n    \"isolate\": {},\n"
      "    \"result\": \"{}\",\n    \"situations_looked_at\": {},\n    \"notes\": {},\n"
      "    \"at_first\": {},\n    \"steps\": {},\n    \"dead_work\": {},\n    \"open\": {},\n"
      "    \"why_not\": {}\n  }}",
      json_string(request.purpose), json_string(request.from), json_string(request.to),
      json_string(request.isolate), result_word(procedure.result), procedure.looked_at,
      findings::json_strings(procedure.notes), live(procedure.at_start),
      array(procedure.steps, "    ", step_json), dead_json(procedure.dead),
      findings::json_strings(procedure.open), findings::json_strings(procedure.why_not));
}

}  // namespace

std::string procedures_json(const std::vector<Procedure>& all) {
  return array(all, "", procedure_json) + "\n";
}

}  // namespace linewright::documents
