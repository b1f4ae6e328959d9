// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <functional>
#include <memory>

#include <boost/asio/associated_executor.hpp>
#include <boost/asio/async_result.hpp>
#include <boost/asio/executor_work_guard.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/thread_pool.hpp>

#include <spdlog/spdlog.h>

#include "server/api/dispatcher.hpp"
#include "server/api/message.hpp"
#include "server/api/routes.hpp"
#include "server/config.hpp"

namespace cellarer::http {

/// What the job answers. One that throws all the same is answered 500, and the service lives.
inline api::Response answer_of(const std::function<api::Response()>& job) {
  try {
    return job();
  } catch (const std::exception& error) {
    spdlog::error("a worker's job: {}", error.what());
    return api::problem_response(
        Problem(ProblemCode::internal, "The service could not do this. Its log says why, at this moment."));
  }
}

/// The threads that compute and the threads that write. Those that write spend their time waiting for the
/// disk, so there are more of them; what they have to compute they compute themselves.
class Workers {
 public:
  explicit Workers(const Config& config)
      : compute_(static_cast<std::size_t>(config.compute_threads)),
        write_(static_cast<std::size_t>(config.write_threads)),
        most_waiting_(config.limits.waiting) {}

  /// Whether one more may wait.
  bool has_room(api::Runs runs) const {
    return runs == api::Runs::sign_in ? signing_in_ < most_signing_in : waiting_ < most_waiting_;
  }

  /// Runs `work` on the kind of thread asked for, and hands its answer to the caller
  /// on the caller's executor.
  template <class Token>
  auto async_run(api::Runs runs, std::function<api::Response()> work, Token&& token) {
    const auto start = [this, runs](auto handler, std::function<api::Response()> job) {
      const auto executor = boost::asio::get_associated_executor(handler);
      auto shared = std::make_shared<decltype(handler)>(std::move(handler));
      auto guard = boost::asio::make_work_guard(executor);
      auto& waiting = runs == api::Runs::sign_in ? signing_in_ : waiting_;
      ++waiting;
      boost::asio::post(
          pool(runs), [&waiting, executor, shared, guard = std::move(guard), job = std::move(job)]() mutable {
            api::Response response = answer_of(job);
            --waiting;
            boost::asio::post(executor,
                              [shared, response = std::move(response)]() mutable { (*shared)(std::move(response)); });
          });
    };
    return boost::asio::async_initiate<Token, void(api::Response)>(start, token, std::move(work));
  }

  /// Finishes what has begun and drops the rest.
  void stop() {
    compute_.stop();
    write_.stop();
    sign_in_.stop();
    compute_.join();
    write_.join();
    sign_in_.join();
  }

 private:
  boost::asio::thread_pool& pool(api::Runs runs) {
    if (runs == api::Runs::sign_in) return sign_in_;
    return runs == api::Runs::write ? write_ : compute_;
  }

  static constexpr std::size_t most_signing_in = 16;  ///< what waits longer than that is told to come again

  boost::asio::thread_pool compute_, write_, sign_in_{1};
  std::size_t most_waiting_;
  std::atomic<std::size_t> waiting_{0}, signing_in_{0};
};

}  // namespace cellarer::http
