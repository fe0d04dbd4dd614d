#include "lodge/questions.hpp"

#include <semaphore>

#include "lodge/ask_json.hpp"

namespace skewback::lodge {
namespace {

constexpr int kAtOnce = 4;

struct Asked {
  Picked of;
  std::shared_ptr<const Asker> asker;
};

// The asker of the newest proof; the last one is kept.
class Askers {
 public:
  explicit Askers(Source source) : source_(std::move(source)) {}

  std::optional<Asked> newest() {
    for (const Picked& picked : newest_first(source_)) {
      if (picked.dossier->proofs.empty()) continue;
      const std::lock_guard guard(lock_);
      if (kept_.of.dossier != picked.dossier) kept_.asker = nullptr;
      if (!kept_.asker) kept_.asker = std::make_shared<const Asker>(picked.dossier);
      kept_.of = picked;
      return kept_;
    }
    return std::nullopt;
  }

  std::counting_semaphore<kAtOnce> free{kAtOnce};

 private:
  Source source_;
  std::mutex lock_;
  Asked kept_;
};

class Turn {
 public:
  explicit Turn(std::counting_semaphore<kAtOnce>& free) : free_(free), got_(free.try_acquire()) {}
  ~Turn() {
    if (got_) free_.release();
  }
  Turn(const Turn&) = delete;
  Turn& operator=(const Turn&) = delete;
  [[nodiscard]] bool got() const { return got_; }

 private:
  std::counting_semaphore<kAtOnce>& free_;
  bool got_;
};

}  // namespace

void add_questions(Bench& bench, const Source& source) {
  bench.ask = [askers = std::make_shared<Askers>(source)](const nlohmann::json& json, bool quick) {
    const Result<Question> question = read_question(json);
    if (!question) return refusal(400, question.faults());
    const Turn turn(askers->free);
    if (!turn.got()) return refusal(429, "other questions are being answered: ask again");
    const std::optional<Asked> asked = askers->newest();
    if (!asked) return refusal(404, "nothing is proved yet to ask about");
    const Result<Answer> answer = asked->asker->answer(*question, quick);
    if (!answer) return refusal(400, answer.faults());
    Sheaf sheaf = answer_sheaf(*answer);
    sheaf.head = headed("answer", asked->of, sheaf.head);
    return Reply{200, "application/octet-stream", sheaf.bytes(), {}};
  };
}

}  // namespace skewback::lodge
