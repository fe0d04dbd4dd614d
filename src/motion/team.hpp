#pragma once
// Private to motion/: threads that go step by step together. Who does what depends only on their
// number and never changes a result.

#include <atomic>
#include <thread>
#include <vector>

namespace skewback::motion {

/// Waits until all have come; spins a little, then gives way.
class Gate {
 public:
  explicit Gate(int count) : count_(count) {}
  void wait() {
    const int turn = turn_.load(std::memory_order_acquire);
    if (waiting_.fetch_add(1, std::memory_order_acq_rel) + 1 == count_) {
      waiting_.store(0, std::memory_order_relaxed);
      turn_.store(turn + 1, std::memory_order_release);
      return;
    }
    for (int spins = 0; turn_.load(std::memory_order_acquire) == turn; ++spins)
      if (spins > 2000) std::this_thread::yield();
  }

 private:
  const int count_;
  std::atomic<int> waiting_{0}, turn_{0};
};

/// Calls work(0) on this thread and work(1) to work(count - 1) on others; work must not throw.
template <class Work>
void together(int count, Work work) {
  std::vector<std::thread> others;
  for (int k = 1; k < count; ++k) others.emplace_back([&, k] { work(k); });
  work(0);
  for (std::thread& other : others) other.join();
}

}  // namespace skewback::motion
