// SPDX-License-Identifier: MIT
// The threads that work for connections: a job that fails, and what the store tells later.
#include "server/http/workers.hpp"

#include <atomic>
#include <future>
#include <thread>

#include "tests/support/catch.hpp"

using namespace cellarer;

TEST_CASE("a worker's job that throws is answered 500, with the cause in the log alone", "[http]") {
  http::Workers workers{cellarer::Config()};
  const auto answer_of = [&workers](http::Workers::Work work) {
    std::promise<api::Response> answer;
    workers.async_run(api::Runs::compute, std::move(work),
                      [&answer](api::Response response) { answer.set_value(std::move(response)); });
    return answer.get_future().get();
  };
  const auto failed = answer_of([](auto&, auto&) { throw std::runtime_error("nobody foresaw it"); });
  CHECK(failed.status == 500);
  CHECK(failed.body->find("/problems/internal") != std::string::npos);
  CHECK(failed.body->find("nobody foresaw it") == std::string::npos);
  CHECK(answer_of([](auto&, auto& answered) { answered(api::Response()); }).status == 200);
  CHECK(answer_of([](auto& post, auto&) { post([] { throw std::runtime_error("nor this"); }); }).status == 500);
  CHECK(answer_of([](auto&, auto& answered) {
          answered(api::Response());
          throw std::runtime_error("after the answer");
        }).status == 200);
}

TEST_CASE("what remains of a job once the store has told is done by a worker, not by who tells", "[http]") {
  http::Workers workers{cellarer::Config()};
  std::thread::id told_by;
  std::promise<std::thread::id> done_by;
  const auto told_elsewhere = [&](const http::Workers::Post& post, const http::Workers::Answered& answered) {
    std::thread([post, answered, &told_by, &done_by] {
      told_by = std::this_thread::get_id();
      post([answered, &done_by] {
        answered(api::Response());
        done_by.set_value(std::this_thread::get_id());
      });
    }).join();
  };
  std::promise<void> answer;
  workers.async_run(api::Runs::write, told_elsewhere, [&answer](const api::Response&) { answer.set_value(); });
  answer.get_future().wait();
  CHECK(done_by.get_future().get() != told_by);
}

TEST_CASE("workers that stop wait for what the store has still to tell", "[http]") {
  http::Workers workers{cellarer::Config()};
  http::Workers::Post kept;
  std::promise<void> handed_over;
  const auto hand_over = [&](const http::Workers::Post& post, const http::Workers::Answered&) {
    kept = post;
    handed_over.set_value();
  };
  workers.async_run(api::Runs::write, hand_over, [](const api::Response&) {});
  handed_over.get_future().wait();
  std::atomic<bool> has_told = false;
  std::thread store([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
    kept([] {});
    has_told = true;
    kept = nullptr;
  });
  workers.stop();
  CHECK(has_told);
  store.join();
}
