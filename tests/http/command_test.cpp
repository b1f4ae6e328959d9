// SPDX-License-Identifier: MIT
// The parts of the command that look after the store, and how any part says no.
#include <fstream>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {}

TEST_CASE("a copy made while the service runs is restored with everything in it", "[command]") {
  Home at;
  const TemporaryFolder folder;
  const auto copy = (folder.path() / "copy.sqlite").string(), data = (folder.path() / "data").string();
  const auto made = run_cellarer({"backup", "--data", at.service.data(), copy, "--json"});
  INFO(made.err);
  REQUIRE(made.code == 0);
  CHECK(json::parse(made.out)["bytes"].get<int>() > 4096);
  CHECK(run_cellarer({"backup", "--data", at.service.data(), copy}).code == 1);  // never over a file that is there
  const auto restored = run_cellarer({"restore", "--data", data, copy, "--json"});
  INFO(restored.err);
  REQUIRE(restored.code == 0);
  CHECK(json::parse(restored.out)["entries"] == 6);
  const auto again = run_cellarer({"restore", "--data", data, copy});
  CHECK(again.code == 1);
  CHECK(again.err.find("not overwritten") != std::string::npos);
  Service service(nullptr, data);
  HttpClient client(service.port());
  CHECK(client.get("/api/v1/households/h-1/entries").body == at.client.get("/api/v1/households/h-1/entries").body);
}

// Identity: two cells that are alike are one cell at half of the volts; and a used cell never makes a pair last longer.
TEST_CASE("a fresh cell beside a used one lasts as the two of them do", "[command]") {
  const std::string cell = std::string(CELLARER_SOURCE_DIR) + "/data/cells/lr6-duracell-industrial.json";
  const auto asked = [&](const char* used_percent) {
    const auto ended = run_cellarer(
        {"runtime", cell, "--current-ma", "100", "--cutoff-v", "0.9", "--beside-used-percent", used_percent, "--json"});
    INFO(ended.err);
    REQUIRE(ended.code == 0);
    return json::parse(ended.out);
  };
  const auto alike = asked("0"), used = asked("60");
  CHECK(alike["beside_used"]["hours"].get<double>() == Approx(alike["bare_hours"].get<double>()).epsilon(0.001));
  CHECK(used["beside_used"]["hours"] < alike["beside_used"]["hours"]);
  CHECK(used["beside_used"]["end_V"][1] < used["beside_used"]["end_V"][0]);
}

TEST_CASE("an encrypted copy opens with its key alone, and is restored with everything in it", "[command]") {
  Home at;
  const TemporaryFolder folder;
  const auto in = [&](const char* name) { return (folder.path() / name).string(); };
  REQUIRE(run_cellarer({"backup", "--make-key", in("key")}).code == 0);
  CHECK(run_cellarer({"backup", "--make-key", in("key")}).code == 1);  // a key in use is not written over
  const auto made =
      run_cellarer({"backup", "--data", at.service.data(), in("copy"), "--key-file", in("key"), "--json"});
  INFO(made.err);
  REQUIRE(made.code == 0);
  CHECK(json::parse(made.out)["encrypted"] == true);
  const auto without = run_cellarer({"restore", "--data", in("data"), in("copy")});
  CHECK(without.code == 1);
  CHECK(without.err.find("--key-file") != std::string::npos);
  const auto checked = run_cellarer({"check", in("copy"), "--key-file", in("key"), "--json"});
  REQUIRE(checked.code == 0);
  CHECK(json::parse(checked.out)["entries"] == 6);
  REQUIRE(run_cellarer({"restore", "--data", in("data"), in("copy"), "--key-file", in("key")}).code == 0);
  const auto again = run_cellarer({"check", "--data", in("data"), "--json"});
  CHECK(json::parse(again.out)["heads"] == json::parse(checked.out)["heads"]);
  REQUIRE(run_cellarer({"backup", "--make-key", in("other")}).code == 0);
  CHECK(run_cellarer({"check", in("copy"), "--key-file", in("other")}).code == 1);
  CHECK(run_cellarer({"backup"}).code == 2);
  CHECK(run_cellarer({"check"}).code == 2);
}

TEST_CASE("check counts what is there, and says of a damaged or foreign file that it is", "[command]") {
  Home at;
  const auto fine = run_cellarer({"check", "--data", at.service.data(), "--json"});
  REQUIRE(fine.code == 0);
  CHECK(json::parse(fine.out)["households"] == 1);
  CHECK(json::parse(fine.out)["entries"] == 6);
  CHECK(json::parse(fine.out)["faults"].empty());
  const TemporaryFolder folder;
  CHECK(run_cellarer({"check", "--data", folder.path()}).code == 1);
  std::ofstream(folder.path() / "cellarer.sqlite") << std::string(9000, 'x');
  const auto foreign = run_cellarer({"check", "--data", folder.path()});
  CHECK(foreign.code == 1);
  CHECK(foreign.err.find("cellarer: ") == 0);
}

TEST_CASE("a damaged copy is not restored", "[command]") {
  Home at;
  const TemporaryFolder folder;
  const auto copy = (folder.path() / "copy.sqlite").string();
  REQUIRE(run_cellarer({"backup", "--data", at.service.data(), copy}).code == 0);
  {
    std::fstream file(copy, std::ios::in | std::ios::out | std::ios::binary);
    file.seekp(4096);
    file << std::string(8192, '\x5a');
  }
  const auto data = (folder.path() / "data").string();
  CHECK(run_cellarer({"restore", "--data", data, copy}).code == 1);
  CHECK_FALSE(std::filesystem::exists(data + "/cellarer.sqlite"));
}

TEST_CASE("reforecast computes every household and says how many", "[command]") {
  Home at;
  at.client.post("/api/v1/households", {{"household", "h-2"}, {"zone", "UTC"}, {"changing_times", {"08:00"}}});
  const auto ended =
      run_cellarer({"reforecast", "--data", at.service.data(), "--profiles", delivered_profiles, "--json"});
  INFO(ended.err);
  REQUIRE(ended.code == 0);
  const auto said = json::parse(ended.out);
  CHECK(said["households"] == 2);
  CHECK(said["failed"].empty());
  CHECK(said["sides"]["no_forecast"] == 2);  // h-2 has no unit
}

TEST_CASE("reforecast into a file goes on where it was cut off, and computes only what changed", "[command]") {
  Home at;
  at.client.post("/api/v1/households", {{"household", "h-2"}, {"zone", "UTC"}, {"changing_times", {"08:00"}}});
  const TemporaryFolder folder;
  const auto out = (folder.path() / "forecasts.jsonl").string();
  const auto computed = [&] {
    const auto ended = run_cellarer(
        {"reforecast", "--data", at.service.data(), "--profiles", delivered_profiles, "--out", out, "--json"});
    INFO(ended.err);
    REQUIRE(ended.code == 0);
    CHECK(json::parse(ended.out)["households"] == 2);
    return json::parse(ended.out)["computed"].get<int>();
  };
  CHECK(computed() == 2);
  CHECK(computed() == 0);
  std::filesystem::resize_file(out, std::filesystem::file_size(out) - 10);  // cut off in the midst of its last line
  CHECK(computed() == 1);
  at.client.post("/api/v1/households/h-1/readings", {{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}});
  CHECK(computed() == 1);
  std::ifstream lines(out);
  int count = 0;
  for (std::string line; std::getline(lines, line); ++count) CHECK(json::parse(line)["forecast"].contains("sides"));
  CHECK(count == 3);
}

// Identity: what is taken up from the run before is what learning it anew comes to, to the last octet.
TEST_CASE("reforecast keeps what ended sets taught, and takes it up without a forecast being any other", "[command]") {
  Home at;
  const auto send = [&](const char* what, const json& body) {
    REQUIRE(at.client.post(std::string("/api/v1/households/h-1/") + what, body).status == 201);
  };
  constexpr long day = 86400;
  send("units", {{"serial", "u-0"}, {"stimulator", "percent-power"}, {"from", from_now(-40 * day)}});
  send("settings", {{"from", from_now(-40 * day)},
                    {"side", "left"},
                    {"rate_per_min", 12},
                    {"inspiratory_fraction", 0.28},
                    {"amplitude", 4.0}});
  const auto change = [&](long seconds_ago) {
    send("cell-changes", {{"at", from_now(-seconds_ago)},
                          {"side", "left"},
                          {"reason", "planned"},
                          {"cells", {{"profile", "lr6-family"}}},
                          {"from_stock", false}});
  };
  for (long days_ago = 30; days_ago > 5; days_ago -= 3) change(days_ago * day);
  const TemporaryFolder folder;
  const auto in = [&](const char* name) { return (folder.path() / name).string(); };
  const auto last_line = [&](const char* name, const std::string& as_of) {
    const auto ended = run_cellarer({"reforecast", "--data", at.service.data(), "--profiles", delivered_profiles,
                                     "--out", in(name), "--at", as_of, "--json"});
    INFO(ended.err);
    REQUIRE(ended.code == 0);
    CHECK(json::parse(ended.out)["computed"] == 1);
    std::ifstream lines(in(name));
    json last;
    for (std::string line; std::getline(lines, line);) last = json::parse(line);
    return last;
  };
  const auto before = last_line("kept", from_now(0));
  CHECK(before["lessons"].get<std::string>().size() > 100);
  send("readings", {{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}});
  const auto then = from_now(5);
  const auto with_reading = last_line("kept", then);
  CHECK(with_reading["lessons"] == before["lessons"]);
  CHECK(with_reading == last_line("anew", then));

  change(1800);  // one more set has ended
  const auto later = from_now(10);
  const auto with_change = last_line("kept", later);
  CHECK(with_change["lessons"] != before["lessons"]);
  CHECK(with_change == last_line("anew2", later));
}

TEST_CASE("what is not understood is exit code 2, what is refused is 1, each with its reason on stderr", "[command]") {
  CHECK(run_cellarer({}).code == 2);
  CHECK(run_cellarer({"dance"}).code == 2);
  CHECK(run_cellarer({"serve"}).code == 2);
  CHECK(run_cellarer({"forecast", "missing.json", "--at", "tomorrow"}).code == 2);
  const auto missing = run_cellarer({"forecast", "missing.json"});
  CHECK(missing.code == 1);
  CHECK(missing.err.find("cannot read missing.json") != std::string::npos);
  CHECK(missing.out.empty());
  for (const char* part : {"serve", "fit", "runtime", "forecast", "reforecast", "backup", "restore", "check"}) {
    const auto help = run_cellarer({part, "--help"});
    INFO(part);
    CHECK(help.code == 0);
    CHECK(help.out.find("--json") != std::string::npos);
    CHECK(help.err.empty());
  }
}

TEST_CASE("an export that breaks the form is refused with its place", "[command]") {
  const TemporaryFolder folder;
  const auto file = (folder.path() / "bad.json").string();
  std::ofstream(file) << R"({"household": "h-1", "zone": "Europe/Oslo", "changing_times": ["21:30"],
    "readings": [{"at": "2026-01-03T08:00:00+01:00", "side": "left", "percent": 162}]})";
  const auto ended = run_cellarer({"forecast", file, "--profiles", delivered_profiles});
  CHECK(ended.code == 1);
  CHECK(ended.err == "cellarer: " + file + ": /readings/0/percent: 162 is outside 0 to 100\n");
}

TEST_CASE("`forecast` names the file that it cannot read, and the place", "[command]") {
  const TemporaryFolder folder;
  const auto file = (folder.path() / "export.json").string();
  const auto refusal_of = [&](const std::string& text) {
    std::ofstream(file) << text;
    const auto ended = run_cellarer({"forecast", file, "--profiles", delivered_profiles});
    CHECK(ended.code == 1);
    return ended.err;
  };
  CHECK_THAT(refusal_of("household: h-1"), holds(file + ": the document: is not JSON: line 1, column 1"));
  CHECK_THAT(refusal_of(R"({"household": "h-1", "zone": "Europe/Atlantis", "changing_times": ["21:30"]})"),
             holds(file + ": /zone: "));
  const auto of_folder = run_cellarer({"forecast", folder.path().string(), "--profiles", delivered_profiles});
  CHECK(of_folder.code == 1);
  CHECK_THAT(of_folder.err, holds("cannot read " + folder.path().string()));
}

TEST_CASE("a label is what an invitation takes as one, on the command line too", "[command]") {
  Service service;
  const auto add = [&](const std::string& label) {
    return run_cellarer({"account", "add", "--data", service.data(), "--role", "planner", "--label", label});
  };
  CHECK(add("B\xc3\xbc"
            "ro")
            .code == 0);
  for (const auto& bad : {std::string("B\xfc"
                                      "ro"),
                          std::string("two\nlines"), std::string(81, 'x')}) {
    const auto refused = add(bad);
    INFO(bad);
    CHECK(refused.code == 1);
    CHECK_THAT(refused.err, holds("--label: "));
  }
}
