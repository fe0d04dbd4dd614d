#include "lodge/ask_json.hpp"

#include "assembly/fields.hpp"

namespace skewback::lodge {
namespace {

constexpr std::size_t kPeopleMost = 50;  // crowds, persons, pushes
constexpr std::size_t kIdsMost = 1000;

void take(std::optional<double> value, double& to) {
  if (value) to = *value;
}

std::optional<Vec2> vec2(Fields& fields, const Cursor& at) {
  if (!fields.array(at)) return std::nullopt;
  if (at.size() != 2) {
    fields.fault(at, std::to_string(at.size()) + " elements", "two numbers [x, y]");
    return std::nullopt;
  }
  const auto x = fields.number(at.element(0)), y = fields.number(at.element(1));
  if (!x || !y) return std::nullopt;
  return Vec2(*x, *y);
}

/// The elements of a list that is there, is one and is not too long.
template <class Each>
void each_of(Fields& fields, const Cursor& root, std::string_view key, std::size_t most,
             Each&& each) {
  const auto list = root.member(key);
  if (!list || !fields.array(*list)) return;
  if (list->size() > most) {
    fields.fault(*list, std::to_string(list->size()) + " elements",
                 "at most " + std::to_string(most));
    return;
  }
  for (std::size_t i = 0; i < list->size(); ++i) each(list->element(i));
}

void place_of(Fields& fields, const Cursor& element, Vec2& at) {
  const auto key = fields.required(element, "at");
  if (!key) return;
  if (const auto place = vec2(fields, *key)) at = *place;
}

void read_people(Fields& fields, const Cursor& root, Question& question) {
  each_of(fields, root, "crowds", kPeopleMost, [&](const Cursor& element) {
    if (!fields.object(element, {"at", "radius_m", "pressure_pa"})) return;
    Question::Crowd crowd;
    place_of(fields, element, crowd.at);
    if (const auto key = element.member("radius_m")) take(fields.number(*key), crowd.radius_m);
    if (const auto key = element.member("pressure_pa")) {
      take(fields.number(*key), crowd.pressure_pa);
    }
    question.crowds.push_back(crowd);
  });
  each_of(fields, root, "persons", kPeopleMost, [&](const Cursor& element) {
    if (!fields.object(element, {"at", "force_n"})) return;
    Question::Person person;
    place_of(fields, element, person.at);
    if (const auto key = element.member("force_n")) take(fields.number(*key), person.force_n);
    question.persons.push_back(person);
  });
}

void read_pushes(Fields& fields, const Cursor& root, Question& question) {
  each_of(fields, root, "pushes", kPeopleMost, [&](const Cursor& element) {
    if (!fields.object(element, {"support", "shift_m", "turn_rad"})) return;
    Question::Push push;
    if (const auto key = fields.required(element, "support")) {
      if (const auto support = fields.integer(*key)) push.support = *support;
    }
    if (const auto key = element.member("shift_m")) {
      if (const auto shift = fields.vec3(*key)) push.shift_m = *shift;
    }
    if (const auto key = element.member("turn_rad")) take(fields.number(*key), push.turn_rad);
    question.pushes.push_back(push);
  });
}

void read_ids(Fields& fields, const Cursor& root, std::string_view key,
              std::vector<std::string>& to) {
  each_of(fields, root, key, kIdsMost, [&](const Cursor& element) {
    if (auto id = fields.text(element)) to.push_back(*std::move(id));
  });
}

}  // namespace

Result<Question> read_question(const nlohmann::json& message) {
  Fields fields("");
  Question question;
  const Cursor root{&message, nullptr, {}, 0};
  if (!fields.object(root, {"case", "live_factor", "crowds", "persons", "pushes", "without_blocks",
                            "without_ties", "friction"}))
    return fields.take();
  if (const auto key = root.member("case")) {
    if (auto id = fields.text(*key)) question.case_id = *std::move(id);
  }
  if (const auto key = root.member("live_factor")) take(fields.number(*key), question.live_factor);
  if (const auto key = root.member("friction"); key && !key->value->is_null())
    question.friction = fields.number(*key);
  read_people(fields, root, question);
  read_pushes(fields, root, question);
  read_ids(fields, root, "without_blocks", question.without_blocks);
  read_ids(fields, root, "without_ties", question.without_ties);
  if (!fields.clean()) return fields.take();
  return question;
}

}  // namespace skewback::lodge
