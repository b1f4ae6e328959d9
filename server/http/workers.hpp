// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <condition_variable>
#include <functional>
#include <memory>
#include <mutex>

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

/// The threads that compute and the threads that write. What is recorded waits for the disk without a thread
/// (`api::Response::after`); whoever else writes keeps one of those that write waiting, and none that computes.
class Workers {
 public:
  using Post = api::Dispatcher::Post;
  using Answered = api::Dispatcher::Answered;
  using Work = std::function<void(const Post&, const Answered&)>;

  explicit Workers(const Config& config)
      : compute_(static_cast<std::size_t>(config.compute_threads)),
        write_(static_cast<std::size_t>(config.write_threads)),
        most_waiting_(config.limits.waiting) {}
  ~Workers() { stop(); }
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;

  /// Whether one more may wait.
  bool has_room(api::Runs runs) const {
    return runs == api::Runs::sign_in ? signing_in_ < most_signing_in : waiting_ < most_waiting_;
  }

  /// Runs `work` on the kind of thread asked for, and hands its answer to the caller on the caller's executor.
  template <class Token>
  auto async_run(api::Runs runs, Work work, Token&& token) {
    const auto start = [this, runs](auto handler, Work job) {
      auto& waiting = runs == api::Runs::sign_in ? signing_in_ : waiting_;
      ++waiting;
      const auto executor = boost::asio::get_associated_executor(handler);
      const Answered answered = [&waiting, executor, guard = boost::asio::make_work_guard(executor),
                                 once = std::make_shared<std::atomic<bool>>(false),
                                 shared =
                                     std::make_shared<decltype(handler)>(std::move(handler))](api::Response response) {
        if (once->exchange(true)) return;
        --waiting;
        boost::asio::post(executor,
                          [shared, response = std::move(response)]() mutable { (*shared)(std::move(response)); });
      };
      boost::asio::post(pool(runs), [this, runs, answered, job = std::move(job)] { run(runs, job, answered); });
    };
    return boost::asio::async_initiate<Token, void(api::Response)>(start, token, std::move(work));
  }

  /// Finishes what has begun and drops the rest. What is on its way to the disk gets there.
  void stop() {
    compute_.stop();
    write_.stop();
    sign_in_.stop();
    compute_.join();
    write_.join();
    sign_in_.join();
    under_way_.wait();
  }

 private:
  /// How many jobs may still be handed back by the store: each holds one of these until it was, and after it ended.
  class UnderWay {
   public:
    std::shared_ptr<void> one() {
      const std::lock_guard lock(mutex_);
      ++count_;
      return {this, [](UnderWay* all) { all->end(); }};
    }
    void wait() {
      std::unique_lock lock(mutex_);
      none_.wait(lock, [this] { return count_ == 0; });
    }

   private:
    void end() {
      const std::lock_guard lock(mutex_);
      if (--count_ == 0) none_.notify_all();
    }

    std::mutex mutex_;
    std::condition_variable none_;
    std::size_t count_ = 0;
  };

  void run(api::Runs runs, const Work& job, const Answered& answered) {
    const Post post = [this, runs, answered, held = under_way_.one()](std::function<void()> rest) {
      boost::asio::post(pool(runs), [rest = std::move(rest), answered] { or_500(rest, answered); });
    };
    or_500([&] { job(post, answered); }, answered);
  }

  /// What throws all the same is answered 500, if it was not answered yet, and the service lives.
  template <class Part>
  static void or_500(const Part& part, const Answered& answered) {
    try {
      part();
    } catch (const std::exception& error) {
      spdlog::error("a worker's job: {}", error.what());
      answered(api::problem_response(
          Problem(ProblemCode::internal, "The service could not do this. Its log says why, at this moment.")));
    }
  }

  boost::asio::thread_pool& pool(api::Runs runs) {
    if (runs == api::Runs::sign_in) return sign_in_;
    return runs == api::Runs::write ? write_ : compute_;
  }

  static constexpr std::size_t most_signing_in = 16;  ///< what waits longer than that is told to come again

  std::atomic<std::size_t> waiting_{0}, signing_in_{0};  // before the pools, whose jobs know them
  UnderWay under_way_;
  boost::asio::thread_pool compute_, write_, sign_in_{1};
  std::size_t most_waiting_;
};

}  // namespace cellarer::http
