// The command with symbols and fonts of the user.
#include <filesystem>
#include <string>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "drawing/tools.hpp"
#include "support/paths.hpp"

using namespace linewright::tests;

namespace {

CommandOutcome run(const std::string& arguments) {
  return run_command(command_path() + " " + arguments);
}

const std::string sample = source_folder() + "/samples/tarn-house/tarn-house.yaml";
const std::string devanagari = "/usr/share/fonts/truetype/lohit-devanagari/Lohit-Devanagari.ttf";

std::string folder(const std::string& name) {
  std::string path = build_folder() + "/scratch/" + name;
  std::filesystem::remove_all(path);
  std::filesystem::create_directories(path);
  return path;
}

// A folder with one symbol: the built-in file with some of its text replaced.
std::string symbols_with(const std::string& name, const std::string& symbol, const std::string& old,
                         const std::string& fresh) {
  std::string text = read_file(source_folder() + "/symbols/" + symbol + ".svg");
  REQUIRE(text.find(old) != std::string::npos);
  text.replace(text.find(old), old.size(), fresh);
  const std::string path = folder("drawing/" + name);
  write_scratch(name + "/" + symbol + ".svg", text);
  return path;
}

// The sample with a circuit named in a script that no built-in font has.
std::string foreign_site() {
  std::string site = read_file(sample);
  const std::string old = "name: Laundry";
  REQUIRE(site.find(old) != std::string::npos);
  site.replace(site.find(old), old.size(), "name: रसोई");
  return write_scratch("foreign.yaml", site);
}

}  // namespace

TEST_CASE("command: draw takes the user's symbols in place of ours") {
  const std::string mine =
      symbols_with("my-symbols", "rcbo", "circuit-breaker with RCD", "my kind of RCBO");
  const std::string out = folder("with-symbols");
  const CommandOutcome drawn = run("draw " + sample + " -o " + out + " --symbols " + mine);
  INFO(drawn.output);
  CHECK(drawn.exit == 0);
  CHECK_THAT(read_file(out + "/tarn-house-overview.svg"), Catch::Contains("my kind of RCBO"));
}

TEST_CASE("command: a symbol that cannot be used is exit code 2 and draws nothing") {
  const std::string mine = symbols_with("crooked", "rcbo", "cy=\"20\"", "cy=\"19\"");
  const std::string out = folder("not-drawn");
  for (const std::string& what : {"draw " + sample, std::string("symbols")}) {
    const CommandOutcome drawn = run(fmt::format("{} -o {} --symbols {}", what, out, mine));
    CHECK(drawn.exit == 2);
    CHECK_THAT(drawn.output,
               Catch::Contains("/rcbo.svg:13: port '2' at (0, 19) is off the 2.5 mm grid; the "
                               "nearest point is (0, 20)"));
  }
  CHECK(std::filesystem::is_empty(out));
  CHECK(run("draw " + sample + " -o " + out + " --symbols " + out + "/none").exit == 2);
  CHECK_THAT(run("draw " + sample + " -o " + out + " --symbols " + out).output,
             Catch::Contains("holds no symbol"));
}

TEST_CASE("command: text that no font has is told with its element, and a font mends it") {
  const std::string site = foreign_site();
  const std::string out = folder("foreign");
  const CommandOutcome without = run("draw " + site + " -o " + out);
  CHECK(without.exit == 1);
  CHECK_THAT(without.output, Catch::Contains("'रसोई' of -E5 on sheet 'overview' cannot be read as "
                                             "drawn: no font has र (U+0930)"));
  CHECK_THAT(without.output, Catch::Contains("give a font that has these characters: --font"));
  const CommandOutcome with = run("draw " + site + " -o " + out + " --font " + devanagari);
  INFO(with.output);
  CHECK(with.exit == 0);
  CHECK_THAT(run_command("pdftotext '" + out + "/foreign.pdf' -").output, Catch::Contains("रसोई"));
}

TEST_CASE("command: what is no font is exit code 2") {
  const std::string out = folder("no-font");
  const CommandOutcome drawn = run("draw " + sample + " -o " + out + " --font " + sample);
  CHECK(drawn.exit == 2);
  CHECK_THAT(drawn.output, Catch::Contains("tarn-house.yaml: is no font"));
  CHECK(run("draw " + sample + " -o " + out + " --font " + out + "/none.ttf").exit == 2);
  CHECK(std::filesystem::is_empty(out));
}

TEST_CASE("command: symbols draws the review sheets") {
  const std::string out = folder("review");
  const CommandOutcome drawn = run("symbols -o " + out + " --png 40");
  INFO(drawn.output);
  CHECK(drawn.exit == 0);
  CHECK_THAT(read_file(out + "/symbols-1.svg"), Catch::Contains("Conductors and marks"));
  CHECK(read_file(out + "/symbols-1.png").starts_with("\x89PNG"));
  CHECK_THAT(run_command("pdftotext '" + out + "/symbols.pdf' -").output,
             Catch::Contains("hybrid-inverter-backup"));
}
