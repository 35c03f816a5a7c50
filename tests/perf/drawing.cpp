// What a site costs from its file to all sheets as SVG and PDF, beside Graphviz's dot with
// orthogonal lines on the same graph: prints seconds and ratios, asserts nothing. The whole is the
// command in a process of its own, files written; the phases are those of the library alone.
#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <fstream>
#include <functional>
#include <iterator>
#include <optional>
#include <string>
#include <vector>

#include <fcntl.h>
#include <fmt/core.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "input/read.hpp"
#include "linewright.hpp"
#include "perf/campus.hpp"
#include "support/paths.hpp"

namespace {

using namespace linewright;

/// Seconds of CPU that dot may take for one graph; what takes longer is ended and said so.
constexpr unsigned dot_limit = 60;

double seconds(const timeval& time) {
  return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
}

double cpu_now() {
  rusage used{};
  getrusage(RUSAGE_SELF, &used);
  return seconds(used.ru_utime) + seconds(used.ru_stime);
}

/// What a process cost.
struct Cost {
  double cpu = 0.0;     ///< seconds
  double wall = 0.0;    ///< seconds
  double memory = 0.0;  ///< peak, MB
  bool finished = false;
};

/// Runs the work in a process of its own.
Cost in_a_process(const std::function<void()>& work) {
  std::fflush(stdout);
  const auto begun = std::chrono::steady_clock::now();
  const pid_t child = fork();
  if (child == 0) {
    work();
    std::fflush(stdout);
    _exit(0);
  }
  int status = 0;
  rusage used{};
  wait4(child, &status, 0, &used);
  const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - begun;
  return {.cpu = seconds(used.ru_utime) + seconds(used.ru_stime),
          .wall = passed.count(),
          .memory = static_cast<double>(used.ru_maxrss) / 1024.0,
          .finished = WIFEXITED(status) && WEXITSTATUS(status) == 0};
}

/// Runs a command, its output thrown away.
Cost of_command(std::vector<std::string> words, unsigned limit) {
  return in_a_process([&] {
    const rlimit most{limit, limit + 1};
    setrlimit(RLIMIT_CPU, &most);
    const int nowhere = open("/dev/null", O_WRONLY);
    dup2(nowhere, 1);
    dup2(nowhere, 2);
    std::vector<char*> arguments;
    for (std::string& word : words)
      arguments.push_back(word.data());
    arguments.push_back(nullptr);
    execvp(arguments[0], arguments.data());
    _exit(127);
  });
}

/// Seconds of CPU by phase, handed from the process that measures to the one that prints.
enum Phase { reading, checking, layout, pdf, svg, phases };
using Times = std::array<double, phases>;

/// Everything from text to files' contents, each phase timed.
Times draw_all(const std::string& text) {
  Times times{};
  double last = cpu_now();
  const auto lap = [&](Phase phase) {
    const double now = cpu_now();
    times[phase] += now - last;
    last = now;
  };
  const auto told = [&](Step step) {
    switch (step) {
      case Step::read:
        return lap(reading);
      case Step::checked:
        return lap(checking);
      case Step::laid_out:
        return lap(layout);
      case Step::pdf_written:
        return lap(pdf);
      case Step::svg_written:
        return lap(svg);
    }
  };
  const Checked checked = check_site(text, "campus.yaml", {.on_step = told});
  const auto drawn = draw_site(checked, {.file_stem = "campus", .on_step = told});
  if (!drawn) fmt::print("not drawn: {}\n", drawn.error().message);
  return times;
}

/// The phases of a site, measured in a process of its own.
Times phases_of(const std::string& text) {
  std::array<int, 2> pipe_ends{};
  if (pipe(pipe_ends.data()) != 0) return {};
  in_a_process([&] {
    const Times times = draw_all(text);
    if (write(pipe_ends[1], times.data(), sizeof times) < 0) _exit(1);
  });
  close(pipe_ends[1]);
  Times times{};
  if (read(pipe_ends[0], times.data(), sizeof times) < 0) times = {};
  close(pipe_ends[0]);
  return times;
}

/// The command that draws a site file, with everything it costs.
Cost of_drawing(const std::string& file) {
  const std::string folder = tests::build_folder() + "/perf-sheets";
  return of_command({tests::command_path(), "draw", file, "-o", folder, "-q"}, dot_limit);
}

/// One size measured.
struct Row {
  std::size_t feeders = 0;
  Times times{};
  Cost cost;
  std::optional<double> dot;  ///< seconds of CPU; nothing if it was ended or not begun
};

Row measure(std::size_t feeders) {
  const std::string text = tests::Campus(feeders).text();
  const std::string file = tests::build_folder() + "/perf-campus.yaml";
  std::ofstream(file) << text;
  Row row{.feeders = feeders, .times = phases_of(text), .cost = of_drawing(file), .dot = {}};
  std::remove(file.c_str());
  return row;
}

/// The graph of the site: equipment and boards' bars as nodes, runs as edges.
std::string graph_of(const site::Site& site) {
  std::string text = "digraph site {\n  graph [splines=ortho];\n  node [shape=box];\n";
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    text += fmt::format("  n{} [label=\"{}\"];\n", e, site.elements[e].designation);
  for (const site::Run& run : site.runs)
    text += fmt::format("  n{} -> n{};\n", run.from.element, run.to.element);
  return text + "}\n";
}

std::optional<double> dot_on(std::size_t feeders) {
  const std::string file = fmt::format("{}/campus-{}.dot", tests::build_folder(), feeders);
  const input::Reading reading = input::read_site(tests::Campus(feeders).text());
  if (!reading.site) return std::nullopt;
  std::ofstream(file) << graph_of(*reading.site);
  const Cost cost = of_command({"dot", "-Tsvg", "-o", "/dev/null", file}, dot_limit);
  std::remove(file.c_str());
  if (!cost.finished) return std::nullopt;
  return cost.cpu;
}

/// The slope of a straight line through the points, both in logarithms.
double exponent(const std::vector<Row>& rows) {
  double x = 0.0;
  double y = 0.0;
  double xx = 0.0;
  double xy = 0.0;
  const auto n = static_cast<double>(rows.size());
  for (const Row& row : rows) {
    const double a = std::log(static_cast<double>(row.feeders));
    const double b = std::log(row.cost.cpu);
    x += a;
    y += b;
    xx += a * a;
    xy += a * b;
  }
  return (n * xy - x * y) / (n * xx - x * x);
}

void print(const Row& row, bool dot_was_run) {
  fmt::print("{:7}", row.feeders);
  for (const double time : row.times)
    fmt::print(" {:8.3f}", time);
  fmt::print(" {:8.3f} {:8.3f} {:7.0f}", row.cost.cpu, row.cost.wall, row.cost.memory);
  if (row.dot)
    fmt::print(" {:8.2f} {:8.4f}\n", *row.dot, row.cost.cpu / *row.dot);
  else
    fmt::print(" {}\n", dot_was_run ? fmt::format("ended after {} s", dot_limit) : "not begun");
}

void measure_campus() {
  fmt::print(
      "            the library by phase, seconds of CPU        the command       "
      "     dot ortho, CPU\n"
      "feeders     read    check   layout      PDF      SVG      CPU     wall peak MB  "
      "seconds ours/dot\n");
  std::vector<Row> rows;
  bool dot_keeps_up = true;
  for (const std::size_t feeders : {100U, 300U, 1'000U, 3'000U, 10'000U}) {
    rows.push_back(measure(feeders));
    const bool run = dot_keeps_up;
    if (run) rows.back().dot = dot_on(feeders);
    dot_keeps_up = rows.back().dot.has_value();
    print(rows.back(), run);
  }
  fmt::print("the command's CPU grows with the number of feeders to the power {:.2f}\n",
             exponent(rows));
}

/// The least CPU of several runs of a command: what else the machine does only adds.
double least_of(const std::function<Cost()>& run) {
  double least = 1e9;
  for (int i = 0; i < 20; ++i) {
    const Cost cost = run();
    if (!cost.finished) fmt::print("a run failed\n");
    least = std::min(least, cost.cpu);
  }
  return least;
}

void measure_house() {
  const std::string site = tests::source_folder() + "/samples/tarn-house/tarn-house.yaml";
  const double all = least_of([&] { return of_drawing(site); });
  fmt::print("a house, all sheets as SVG and PDF, process start included: {:.1f} ms of CPU\n",
             all * 1e3);
  std::ifstream file(site);
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  Times least{};
  least.fill(1e9);
  for (int i = 0; i < 20; ++i) {
    const Times times = phases_of(text);
    for (std::size_t phase = 0; phase < phases; ++phase)
      least[phase] = std::min(least[phase], times[phase]);
  }
  const double start =
      least_of([] { return of_command({tests::command_path(), "--version"}, dot_limit); });
  fmt::print(
      "  process start {:.1f}, read {:.1f}, check {:.1f}, layout {:.1f}, PDF {:.1f}, SVG {:.1f}\n",
      start * 1e3, least[reading] * 1e3, least[checking] * 1e3, least[layout] * 1e3,
      least[pdf] * 1e3, least[svg] * 1e3);
}

}  // namespace

int main() {
  measure_house();
  measure_campus();
}
