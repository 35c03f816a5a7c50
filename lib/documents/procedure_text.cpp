// Procedures as plain text for people on site.
#include <algorithm>

#include <fmt/core.h>
#include <fmt/format.h>

#include "documents/procedure.hpp"
#include "documents/text_table.hpp"

namespace linewright::documents {
namespace {

constexpr std::size_t label_width = 10;

/// Text in lines under a label; the label stands in the first.
void write(const std::string& label, const std::string& text, std::size_t indent, std::size_t width,
           std::string& out) {
  const std::size_t room = width > indent + label_width ? width - indent - label_width : 1;
  bool first = true;
  for (const std::string& line : broken(text, room)) {
    out += std::string(indent, ' ');
    out += first ? label : "";
    out.append(label_width - (first ? characters(label) : 0), ' ');
    out += line + "\n";
    first = false;
  }
}

void write_each(const std::string& label, const std::vector<std::string>& texts, std::size_t indent,
                std::size_t width, std::string& out) {
  bool first = true;
  for (const std::string& text : texts) {
    write(first ? label : "", text, indent, width, out);
    first = false;
  }
}

void write_list(const std::string& title, const std::vector<std::string>& items, std::size_t width,
                std::string& out) {
  if (items.empty()) return;
  out += "\n  " + title + "\n";
  for (const std::string& item : items) {
    bool first = true;
    for (const std::string& line : broken(item, width - 6)) {
      out += (first ? "    - " : "      ") + line + "\n";
      first = false;
    }
  }
}

std::string words_of(const LiveParts& parts) {
  std::string words;
  for (const FedBoards& fed : parts.fed)
    words += fmt::format("{}{} by {}", words.empty() ? "" : "; ", fmt::join(fed.places, ", "),
                         fed.source);
  for (const std::string& source : parts.leads)
    words += fmt::format("{}{} up to an open switch", words.empty() ? "" : "; ", source);
  if (words.empty()) return "nothing";
  if (!parts.dead.empty()) words += fmt::format("; dead: {}", fmt::join(parts.dead, ", "));
  return words;
}

void write_step(std::size_t number, const ProcedureStep& step, std::size_t width,
                std::string& out) {
  out += fmt::format("\n  {:>2}. {}\n", number, step.does);
  constexpr std::size_t indent = 6;
  write_each("mind", step.cautions, indent, width, out);
  write("who", step.who, indent, width, out);
  write_each("by itself", step.by_itself, indent, width, out);
  write("alive", step.before == step.after ? "as before" : words_of(step.after), indent, width,
        out);
  write_each("verify", step.verify, indent, width, out);
}

std::string title_of(const ProcedureRequest& request) {
  const std::string title =
      request.isolate.empty() ? fmt::format("From '{}' to '{}'", request.from, request.to)
                              : fmt::format("Isolate {}, from '{}'", request.isolate, request.from);
  return request.purpose.empty() ? title : request.purpose + ": " + title;
}

void write_work(const DeadWork& dead, std::size_t width, std::string& out) {
  if (dead.part.empty()) return;
  std::vector<std::string> locks;
  for (const LockRow& lock : dead.locks)
    locks.push_back(fmt::format("{}{}: holds off {}", lock.device,
                                lock.place.empty() ? "" : ", " + lock.place,
                                fmt::join(lock.holds_off, ", ")));
  write_list("Lock and tag", locks, width, out);
  write_list("Keep from starting: block it at its own controls, and its start from afar",
             dead.kept_off, width, out);
  write_list("Wait", dead.waits, width, out);
  write_list("Prove dead, with a tester proved before and after", dead.prove_dead, width, out);
  write_list("Stays alive: cover or bar off what is within reach", dead.stays_alive, width, out);
  write_list("To give it back",
             {"when the work is tested and covered, take off the locks and go the steps back from "
              "the last to the first"},
             width, out);
}

std::string_view result_words(const Procedure& procedure) {
  switch (procedure.result) {
    case ProcedureResult::ready:
      return "";
    case ProcedureResult::open:
      return "OPEN: something that this rests on is not said";
    case ProcedureResult::impossible:
      return "NO SAFE SEQUENCE";
    case ProcedureResult::not_decided:
      return procedure.looked_at == 0 ? "NOT DECIDED"
                                      : "NOT DECIDED: more situations than are looked at";
  }
  return "";
}

void write_procedure(const Procedure& procedure, std::size_t width, std::string& out) {
  const std::string title = title_of(procedure.request);
  out += title + "\n" + std::string(characters(title), '=') + "\n";
  const bool looked = procedure.result != ProcedureResult::not_decided || procedure.looked_at > 0;
  const auto words = result_words(procedure);
  if (!looked) out += fmt::format("  {}\n", words);
  if (looked && !words.empty())
    out += fmt::format("  {} ({} situation{} looked at)\n", words, procedure.looked_at,
                       procedure.looked_at == 1 ? "" : "s");
  write_each("note", procedure.notes, 2, width, out);
  if (looked) write("at first", words_of(procedure.at_start), 2, width, out);
  write_list("Why not", procedure.why_not, width, out);
  if (procedure.steps.empty() && procedure.why_not.empty()) out += "\n  No step is needed.\n";
  for (std::size_t s = 0; s < procedure.steps.size(); ++s)
    write_step(s + 1, procedure.steps[s], width, out);
  write_work(procedure.dead, width, out);
  write_list("Open", procedure.open, width, out);
}

constexpr std::string_view what_to_mind =
    "Mind\n"
    "  Work by licensed people only, after local codes and the makers' instructions, which go "
    "before\n"
    "  this page. Read every device's designation aloud before it is moved; stop if anything "
    "shows\n"
    "  otherwise than written. Prove dead before touching. This is worked out from the file: it "
    "is\n"
    "  right only if the site is built as the file says.\n";

}  // namespace

std::string procedures_text(const std::vector<Procedure>& all, std::size_t width) {
  std::string out;
  for (const Procedure& procedure : all) {
    write_procedure(procedure, width, out);
    out += "\n";
  }
  return out + std::string(what_to_mind);
}

std::string procedures_list(const std::vector<Procedure>& all) {
  std::vector<std::vector<std::string>> rows;
  for (const Procedure& procedure : all) {
    const ProcedureRequest& request = procedure.request;
    const auto quoted = [](const std::string& name) {
      return name.find(' ') == std::string::npos ? name : "'" + name + "'";
    };
    std::string words;
    const std::size_t count = procedure.steps.size();
    switch (procedure.result) {
      case ProcedureResult::ready:
        words = fmt::format("{} step{}", count, count == 1 ? "" : "s");
        break;
      case ProcedureResult::open:
        words =
            fmt::format("{} step{}, {} open", count, count == 1 ? "" : "s", procedure.open.size());
        break;
      case ProcedureResult::impossible:
        words = "no safe sequence";
        break;
      case ProcedureResult::not_decided:
        words = "not decided";
        break;
    }
    rows.push_back({request.purpose,
                    fmt::format("--from {} {} {}", quoted(request.from),
                                request.isolate.empty() ? "--to" : "--isolate",
                                request.isolate.empty() ? quoted(request.to) : request.isolate),
                    words});
  }
  return "Usual for this site; add the words in the middle, or --all\n" + text_table(rows, 2);
}

}  // namespace linewright::documents
