// The built command as a person or a program uses it, and the README's own words.
#include <algorithm>
#include <set>
#include <string>

#include <catch2/catch.hpp>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include "drawing/tools.hpp"
#include "support/paths.hpp"

using namespace linewright::tests;

namespace {

CommandOutcome run(const std::string& arguments) {
  return run_command(command_path() + " " + arguments);
}

std::string sample(const std::string& path) {
  return source_folder() + "/samples/" + path;
}

/// The first YAML block of the README: "your first file".
std::string readme_site() {
  const std::string readme = read_file(source_folder() + "/README.md");
  const std::string fence = "```yaml\n";
  const auto begin = readme.find(fence) + fence.size();
  return readme.substr(begin, readme.find("```", begin) - begin);
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("readme: the first file is clean, with nothing open") {
  const CommandOutcome check = run("check " + write_scratch("house.yaml", readme_site()));
  CHECK(check.exit == 0);
  CHECK(has(check.output, "0 dangers, 0 breaches, 0 advice, 0 open"));
}

TEST_CASE("readme: the first file without its bond is a danger, as the page says") {
  std::string site = readme_site();
  const std::string bond = "bond: closes in island";
  REQUIRE(has(site, bond));
  site.replace(site.find(bond), bond.size(), "bond: none");
  const CommandOutcome check = run("check " + write_scratch("no-bond.yaml", site));
  CHECK(check.exit == 1);
  CHECK(has(check.output, "danger: "));
  CHECK(has(check.output, "[earthing/bond-present-when-islanded]"));
}

TEST_CASE("readme: every command it shows for a file ends well") {
  const std::string house = write_scratch("house.yaml", readme_site());
  const std::string folder = build_folder() + "/scratch/readme-drawings";
  CHECK(run("draw " + house + " -o " + folder).exit == 0);
  CHECK(has(read_file(folder + "/house.pdf"), "%PDF"));
  CHECK(has(run("draw " + house + " --checklist").output, "permit: customer"));
  CHECK(run("draw " + house + " --flags -o " + folder).exit == 0);
  CHECK(has(read_file(folder + "/house-flags.pdf"), "%PDF"));
  CHECK(run("compare " + house + " " + house).exit == 0);
  CHECK(run("show " + house).exit == 0);
  CHECK(run("show --expanded " + house).exit == 0);
  CHECK(has(run("steps " + house).output, "--isolate -T1"));
  CHECK(has(run("steps " + house + " --isolate T1").output, "Lock and tag"));
  CHECK(has(run("states " + house).output, "Neutral-earth bonds"));
  CHECK(has(run("figures " + house).output, "Ib ≤ In"));
  CHECK(run("explain rcd/selectivity").exit == 0);
  CHECK(run("schema").exit == 0);
  CHECK(run("check --quiet --format json --profile GB --color never " + house).exit == 0);
}

TEST_CASE("command: exit codes tell clean, found, unreadable") {
  CHECK(run("check " + sample("tarn-house/tarn-house.yaml")).exit == 0);
  CHECK(run("check " + sample("faulty/three-pole-changeover.yaml")).exit == 1);
  CHECK(run("check " + build_folder() + "/no-such-file.yaml").exit == 2);
  CHECK(run("check " + source_folder()).exit == 2);
  CHECK(run("check " + write_scratch("not-a-site.yaml", "hello")).exit == 2);
  CHECK(run("check --profile ZZ " + sample("terrace/terrace.yaml")).exit == 2);
  CHECK(run("no-such-command").exit == 2);
}

TEST_CASE("command: output that cannot be written is the machine's failure") {
  CHECK(run_command(command_path() + " schema > /dev/full").exit == 3);
  CHECK(run("draw " + sample("terrace/terrace.yaml") + " -o /dev/null/x").exit == 3);
}

TEST_CASE("command: of several files the worst decides the exit code") {
  CHECK(run("check " + sample("terrace/terrace.yaml") + " " +
            sample("faulty/three-pole-changeover.yaml"))
            .exit == 1);
}

TEST_CASE("command: a proof ends with 0 if every hazard is impossible, with 1 if not") {
  const CommandOutcome sound = run("prove " + sample("terrace/terrace.yaml"));
  CHECK(sound.exit == 0);
  CHECK(has(sound.output, "impossible    two sources joined out of step"));
  const CommandOutcome faulty = run("prove " + sample("faulty/generator-not-interlocked.yaml"));
  CHECK(faulty.exit == 1);
  CHECK(has(faulty.output, "POSSIBLE      two sources joined out of step"));
}

TEST_CASE("command: a check sums up the proof in a line, and adds single failures when asked") {
  const std::string terrace = sample("terrace/terrace.yaml");
  const CommandOutcome check = run("check " + terrace);
  CHECK(has(check.output, "every position: "));
  CHECK_FALSE(has(check.output, "One contact at a time"));
  CHECK(has(run("check --single-failure " + terrace).output, "One contact at a time"));
  CHECK(run("check --single-failure --format json " + terrace).exit == 2);
}

TEST_CASE("command: JSON of a check has the keys that are promised") {
  const CommandOutcome check =
      run("check --format json " + sample("faulty/three-pole-changeover.yaml"));
  const auto json = nlohmann::json::parse(check.output);
  for (const char* key : {"tool", "version", "site", "profile", "findings", "open", "counts"})
    CHECK(json.contains(key));
  REQUIRE(json["findings"].size() >= 1);
  for (const char* key : {"rule", "severity", "element", "state", "message", "why", "remedy",
                          "clauses", "file", "line", "column"})
    CHECK(json["findings"][0].contains(key));
  CHECK(json["findings"][0]["clauses"].is_array());
  const bool danger = std::ranges::any_of(
      json["findings"], [](const auto& finding) { return finding["severity"] == "danger"; });
  CHECK(danger);
}

TEST_CASE("command: the same site draws the same bytes, under another locale and folder too") {
  const std::string one = build_folder() + "/scratch/draw-one";
  const std::string two = build_folder() + "/scratch/draw-two";
  const std::string site = sample("tarn-house/tarn-house.yaml");
  REQUIRE(run("draw " + site + " -o " + one + " --png 60").exit == 0);
  REQUIRE(run_command("cd / && LC_ALL=de_DE.UTF-8 TZ=Asia/Tokyo " + command_path() + " draw " +
                      site + " -o " + two + " --png 60")
              .exit == 0);
  for (const char* file :
       {"/tarn-house.pdf", "/tarn-house-overview.svg", "/tarn-house-overview.png"})
    CHECK(read_file(one + file) == read_file(two + file));
}

TEST_CASE("command: the paper is that of the option, in the PDF and in every picture") {
  struct Case {
    const char* options;
    const char* pdf;  ///< points: mm / 25.4 * 72
    const char* svg;
  };
  const auto one = GENERATE(values<Case>({
      {"", "1190.55 x 841.89", "width=\"420mm\""},
      {"--portrait", "841.89 x 1190.55", "width=\"297mm\""},
      {"--paper A4", "595.276 x 841.89", "width=\"210mm\""},
  }));
  CAPTURE(one.options);
  const std::string folder = build_folder() + "/scratch/draw-paper";
  REQUIRE(run(fmt::format("draw {} {} -o {}", one.options, sample("tarn-house/tarn-house.yaml"),
                          folder))
              .exit == 0);
  const CommandOutcome info = run_command("pdfinfo -l 99 " + folder + "/tarn-house.pdf");
  CHECK(has(info.output, fmt::format("Page    1 size:  {}", one.pdf)));
  CHECK(has(read_file(folder + "/tarn-house-overview.svg"), one.svg));
  CHECK(run("draw --paper A5 x.yaml -o /nowhere").exit != 0);
}

TEST_CASE("command: what finds no place on A4 is drawn on A3") {
  const std::string folder = build_folder() + "/scratch/draw-small-paper";
  REQUIRE(run("draw --paper A4 " + sample("tarn-house/tarn-house.yaml") + " -o " + folder).exit ==
          0);
  const CommandOutcome info = run_command("pdfinfo -l 99 " + folder + "/tarn-house.pdf");
  CHECK(has(info.output, "1190.55 x 841.89"));  // the transfer panel is wider than A4
  CHECK(has(info.output, "595.276 x 841.89"));
}

/// The colours in the attributes of an SVG, each once.
std::set<std::string> colours_of(const std::string& svg) {
  std::set<std::string> colours;
  for (const char* attribute : {"stroke=\"", "fill=\""})
    for (std::size_t at = svg.find(attribute); at != std::string::npos;
         at = svg.find(attribute, at + 1)) {
      const std::size_t begin = at + std::string(attribute).size();
      colours.insert(svg.substr(begin, svg.find('"', begin) - begin));
    }
  return colours;
}

TEST_CASE("command: in monochrome every colour of SVG and PDF is black or white") {
  const std::string folder = build_folder() + "/scratch/draw-black";
  REQUIRE(
      run("draw --monochrome --states " + sample("clinic/clinic.yaml") + " -o " + folder).exit ==
      0);
  for (const char* sheet : {"overview", "states"}) {
    INFO(sheet);
    std::set<std::string> colours =
        colours_of(read_file(fmt::format("{}/clinic-{}.svg", folder, sheet)));
    CHECK(colours.contains("#000"));
    for (const char* plain : {"#000", "#fff", "none"})
      colours.erase(plain);
    CHECK(colours == std::set<std::string>{});
  }
  // Every operator that sets a colour has only zeros and ones before it.
  const CommandOutcome pdf = run_command("qpdf --qdf --object-streams=disable " + folder +
                                         "/clinic.pdf - | grep -aoE '([0-9.]+ )+(rg|RG|g|G|k|K)\\b'"
                                         " | sort -u");
  CHECK(pdf.output == "0 0 0 RG\n0 0 0 rg\n1 1 1 rg\n");
}

TEST_CASE("command: pictures of the states come as further sheets, counted in every title block") {
  const std::string folder = build_folder() + "/scratch/draw-states";
  REQUIRE(
      run("draw --states " + sample("terrace/terrace.yaml") + " -o " + folder + " --png 60").exit ==
      0);
  CHECK(run_command("qpdf --check " + folder + "/terrace.pdf").exit == 0);
  const CommandOutcome words = run_command("pdftotext -layout " + folder + "/terrace.pdf -");
  const CommandOutcome info = run_command("pdfinfo " + folder + "/terrace.pdf");
  int pages = 0;
  while (!has(info.output, fmt::format("Pages:           {}\n", pages)) && pages < 20)
    ++pages;
  CHECK(has(words.output, fmt::format("1 of {}", pages)));
  CHECK(has(words.output, fmt::format("{0} of {0}", pages)));
  CHECK(has(words.output, "neutral joined to earth at"));
  CHECK(run_command("xmllint --noout " + folder + "/terrace-states.svg").exit == 0);
  CHECK(!read_file(folder + "/terrace-states.png").empty());
}

TEST_CASE("command: the words of a sheet come with its title first, then the diagram, then notes") {
  const std::string folder = build_folder() + "/scratch/draw-order";
  REQUIRE(run("draw " + sample("tarn-house/tarn-house.yaml") + " -o " + folder).exit == 0);
  const std::string words =
      run_command("pdftotext -raw -l 1 " + folder + "/tarn-house.pdf -").output;
  std::size_t before = 0;
  for (const char* next :
       {"Single-line diagram", "TH-07-E-001", "Public supply", "How the site runs"}) {
    CAPTURE(next);
    const std::size_t at = words.find(next);
    REQUIRE(at != std::string::npos);
    CHECK(at > before);
    before = at;
  }
}

TEST_CASE("command: each sample's PDF is sound to qpdf and its words are found by pdftotext") {
  const std::string folder = build_folder() + "/scratch/draw-samples";
  for (const char* name : {"tarn-house", "terrace", "clinic", "farm"}) {
    INFO(name);
    const std::string pdf = folder + "/" + name + ".pdf";
    REQUIRE(
        run("draw " + sample(std::string(name) + "/" + name + ".yaml") + " -o " + folder).exit ==
        0);
    CHECK(run_command("qpdf --check " + pdf).exit == 0);
    const CommandOutcome words = run_command("pdftotext -layout " + pdf + " -");
    CHECK(has(words.output, "Public supply"));
    CHECK(has(words.output, "mm²"));
    CHECK(has(words.output, "How the site runs"));
    CHECK(has(words.output, "prove dead"));
    const std::string svg = fmt::format("{}/{}-overview.svg", folder, name);
    CHECK(run_command(fmt::format("xmllint --noout {}", svg)).exit == 0);
    CHECK(run_command(fmt::format("rsvg-convert -o {}/x.png {}", folder, svg)).exit == 0);
  }
}

TEST_CASE("command: --suggest shows a diff and writes nothing") {
  const std::string faulty = read_file(sample("faulty/three-pole-changeover.yaml"));
  const std::string file = write_scratch("suggest.yaml", faulty);
  const CommandOutcome shown = run("check --suggest " + file);
  CHECK(shown.exit == 1);
  CHECK(has(shown.output, "mended by -Q1: 4P"));
  CHECK(has(shown.output, "\n-    -Q1: {device: changeover I-0-II 125 A 3P,"));
  CHECK(has(shown.output, "\n+    -Q1: {device: changeover I-0-II 125 A 4P,"));
  CHECK(read_file(file) == faulty);
}

TEST_CASE("command: --apply writes what mends, and the file is clean after it") {
  const std::string faulty = read_file(sample("faulty/socket-outlet-for-the-generator.yaml"));
  const std::string file = write_scratch("apply.yaml", faulty);
  REQUIRE(run_command("chmod 640 " + file).exit == 0);
  const CommandOutcome applied = run("check --apply " + file);
  CHECK(applied.exit == 0);
  CHECK(has(applied.output, "1 finding mended in the file"));
  std::string wanted = faulty;
  const std::string outlet = "-X1 socket-outlet 63 A";
  CHECK(read_file(file) == wanted.replace(wanted.find(outlet), outlet.size(), "-X1 inlet 63 A"));
  CHECK(has(run_command("stat -c %a " + file).output, "640"));
  CHECK(run("check " + file).exit == 0);
  CHECK(has(run("check --apply " + file).output, "nothing written"));
}

TEST_CASE("command: --apply writes through a link, and a file it cannot write stays whole") {
  const std::string faulty = read_file(sample("faulty/socket-outlet-for-the-generator.yaml"));
  const std::string file = write_scratch("real.yaml", faulty);
  const std::string link = file + ".link";
  REQUIRE(run_command("ln -sf " + file + " " + link).exit == 0);
  CHECK(run("check --apply " + link).exit == 0);
  CHECK(run_command("test -L " + link).exit == 0);
  CHECK(read_file(file) != faulty);
}

TEST_CASE("command: --suggest goes with neither --questions nor another format") {
  const std::string site = sample("terrace/terrace.yaml");
  CHECK(run("check --suggest --questions " + site).exit == 2);
  CHECK(run("check --apply --format json " + site).exit == 2);
  CHECK(has(run("check --suggest " + site).output, "no finding comes with an edit"));
  CHECK(run("check --questions " + site).exit == 0);
}

TEST_CASE("steps: exit 0 when found, 1 when something is open or impossible, 2 on a wrong name") {
  const std::string terrace = sample("terrace/terrace.yaml");
  CHECK(run("steps " + terrace).exit == 0);
  CHECK(run("steps --all " + terrace).exit == 0);
  CHECK(run("steps --from grid --to bypass " + terrace).exit == 0);
  CHECK(run("steps --isolate A2 --format json " + terrace).exit == 0);
  const CommandOutcome faulty =
      run("steps --to island " + sample("faulty/bond-missing-in-island.yaml"));
  CHECK(faulty.exit == 1);
  CHECK(has(faulty.output, "NO SAFE SEQUENCE"));
  CHECK(has(faulty.output, "the check finds 1 danger"));
  const CommandOutcome wrong = run("steps --to gird " + terrace);
  CHECK(wrong.exit == 2);
  CHECK(has(wrong.output, "did you mean 'grid'?"));
  CHECK(run("steps --to grid --isolate T1 " + terrace).exit == 2);
}

TEST_CASE("command: the checklist is clean for a sample and says what to add to a bare file") {
  const CommandOutcome clean = run("draw --checklist " + sample("terrace/terrace.yaml"));
  CHECK(clean.exit == 0);
  CHECK(has(clean.output, "77 items"));
  CHECK(has(clean.output, " 0 missing"));
  const CommandOutcome bare =
      run("draw --checklist --format json " + write_scratch("house.yaml", readme_site()));
  CHECK(bare.exit == 1);
  CHECK(nlohmann::json::parse(bare.output).at("items").size() == 77);
  CHECK(run("draw " + sample("terrace/terrace.yaml")).exit == 2);
}

TEST_CASE("command: flags are drawn beside the clean sheets, not on them") {
  const std::string folder = build_folder() + "/scratch/flags";
  const std::string file = sample("faulty/three-pole-changeover.yaml");
  CHECK(run("draw --flags " + file + " -o " + folder).exit == 1);
  const std::string clean = read_file(folder + "/three-pole-changeover-overview.svg");
  const std::string flags = read_file(folder + "/three-pole-changeover-flags-overview.svg");
  CHECK_FALSE(has(clean, "class=\"flag\""));
  CHECK(has(flags, "class=\"flag\""));
  CHECK(has(flags, "data-rule=\"earthing/neutral-poles-of-the-transfer\""));
  CHECK(
      has(read_file(folder + "/three-pole-changeover-flags-findings-1.svg"), "class=\"finding\""));
}
