// Edits that change nothing, or add what is sound, change no verdict.
#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>
#include <fmt/core.h>

#include "seeded/account.hpp"
#include "seeded/finder.hpp"
#include "seeded/harmless_kinds.hpp"
#include "seeded/yaml_tree.hpp"
#include "support/expected.hpp"
#include "support/paths.hpp"
#include "support/site_from.hpp"

#ifndef LINEWRIGHT_SEEDED_EVERY
#define LINEWRIGHT_SEEDED_EVERY 1
#endif

namespace linewright::tests {
namespace {

/// Which of the edits are looked at: instrumented builds take fewer.
class Sample {
 public:
  explicit Sample(std::size_t step) : step_(step * LINEWRIGHT_SEEDED_EVERY) {}
  bool takes() { return number_++ % step_ == 0; }

 private:
  std::size_t step_;
  std::size_t number_ = 0;
};

void compare(const Account& before, const Account& after, Adds adds) {
  CHECK(after.mistake.empty());
  if (!after.mistake.empty()) return;
  CHECK(after.said == before.said);
  if (adds == Adds::nothing) {
    CHECK(after.asked == before.asked);
    CHECK(after.rules == before.rules);
  }
}

using Counts = std::map<std::string_view, std::size_t>;

/// Makes the first and every `step`th further edit of each of those kinds in a file, and compares
/// what is said of it.
Counts edit(const std::string& yaml, std::size_t step, const std::vector<HarmlessKind>& kinds) {
  const site::Site site = site_from(yaml);
  const Account before = account_of(yaml, {});
  REQUIRE(before.mistake.empty());
  Counts counts;
  for (const HarmlessKind& kind : kinds) {
    Sample sample(step);
    std::size_t& count = counts[kind.name];
    const auto text = [&](const std::string& place, const std::string& edited,
                          const Renamed& renamed) {
      if (!sample.takes()) return;
      ++count;
      INFO(kind.name << ": " << place);
      compare(before, account_of(edited, renamed), kind.adds);
    };
    const auto changed = [&](const std::string& place, const site::Site& edited) {
      if (!sample.takes()) return;
      ++count;
      INFO(kind.name << ": " << place);
      compare(before, account_of(edited), kind.adds);
    };
    if (kind.text != nullptr) kind.text(yaml, text);
    if (kind.site != nullptr) kind.site(site, changed);
  }
  return counts;
}

void edit_sample(std::string_view sample, std::size_t step = 1) {
  const std::string folder = source_folder() + "/samples/" + std::string(sample) + "/";
  const Counts counts =
      edit(text_of(folder + std::string(sample) + ".yaml"), step, all_harmless_kinds());
  fmt::print("{}\n   made  kind\n", sample);
  for (const HarmlessKind& kind : all_harmless_kinds())
    fmt::print("  {:>5}  {}\n", counts.at(kind.name), kind.name);
}

}  // namespace

TEST_CASE("harmless edits: of the house none changes a verdict", "[seeded]") {
  edit_sample("tarn-house");
}

TEST_CASE("harmless edits: of the terrace none changes a verdict", "[seeded]") {
  edit_sample("terrace");
}

TEST_CASE("harmless edits: of the clinic none changes a verdict", "[seeded]") {
  edit_sample("clinic");
}

TEST_CASE("harmless edits: of the farm none changes a verdict", "[seeded]") {
  edit_sample("farm", 3);  // its sixty circuits are much alike
}

TEST_CASE("harmless edits: a faulty site keeps its findings", "[seeded]") {
  std::vector<HarmlessKind> same = all_harmless_kinds();
  std::erase_if(same, [](const HarmlessKind& kind) { return kind.adds == Adds::something; });
  const auto paths = site_files(source_folder() + "/samples/faulty", Depth::one_folder);
  for (std::size_t p = 0; p < paths.size(); ++p) {
    INFO(paths[p]);
    std::vector<HarmlessKind> some;  // a fifth of the kinds for each site, in turn
    for (std::size_t k = p % 5; k < same.size(); k += 5)
      some.push_back(same[k]);
    edit(text_of(paths[p]), 5, some);
  }
}

TEST_CASE("harmless edits: at least thirty kinds, each of which can be made", "[seeded]") {
  std::map<std::string_view, std::size_t> made;
  for (const std::string_view sample : sound_samples) {
    const std::string folder = source_folder() + "/samples/" + std::string(sample) + "/";
    const std::string yaml = text_of(folder + std::string(sample) + ".yaml");
    const site::Site site = site_from(yaml);
    for (const HarmlessKind& kind : all_harmless_kinds()) {
      std::size_t& count = made[kind.name];
      if (kind.text != nullptr)
        kind.text(yaml, [&](const std::string&, const std::string& edited, const Renamed&) {
          if (edited != yaml) ++count;
        });
      if (kind.site != nullptr)
        kind.site(site, [&](const std::string&, const site::Site&) { ++count; });
    }
  }
  CHECK(made.size() == all_harmless_kinds().size());
  CHECK(made.size() >= 30);
  for (const auto& [kind, count] : made) {
    INFO(kind);
    CHECK(count > 0);
  }
}

}  // namespace linewright::tests
