// The files of a drawing are the same however many threads make them.
#include <cstddef>
#include <functional>
#include <string>
#include <thread>
#include <vector>

#include <catch2/catch.hpp>

#include "linewright.hpp"
#include "perf/campus.hpp"

namespace linewright::tests {
namespace {

using Work = std::vector<std::function<void()>>;

// Every thread takes each so many pieces, the last pieces first.
void do_on(unsigned threads, const Work& work) {
  std::vector<std::jthread> all;
  for (unsigned t = 0; t < threads; ++t)
    all.emplace_back([&work, t, threads] {
      for (std::size_t i = work.size(); i > 0; --i)
        if ((i - 1) % threads == t) work[i - 1]();
    });
}

TEST_CASE("drawing: any number of threads gives the bytes that one gives") {
  const Checked checked = check_site(Campus(120).text(), "campus.yaml");
  REQUIRE(checked.site);
  DrawOptions options{.dots_per_inch = 30.0, .file_stem = "campus"};
  const Result<Drawn> alone = draw_site(checked, options);
  REQUIRE(alone);
  REQUIRE(alone->sheets.size() > 2);

  const unsigned threads = GENERATE(1U, 2U, 5U);
  std::size_t pieces = 0;
  options.do_all = [&](const Work& work) {
    pieces = work.size();
    do_on(threads, work);
  };
  const Result<Drawn> together = draw_site(checked, options);
  REQUIRE(together);
  CHECK(pieces == alone->sheets.size() + 1);
  CHECK(together->pdf == alone->pdf);
  REQUIRE(together->sheets.size() == alone->sheets.size());
  for (std::size_t i = 0; i < alone->sheets.size(); ++i) {
    CHECK(together->sheets[i].name == alone->sheets[i].name);
    CHECK(together->sheets[i].svg == alone->sheets[i].svg);
    CHECK(together->sheets[i].png == alone->sheets[i].png);
  }
}

}  // namespace
}  // namespace linewright::tests
