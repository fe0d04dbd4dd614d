#include "lodge/site_routes.hpp"

#include <algorithm>
#include <mutex>
#include <stdexcept>

#include "daybook/daybook.hpp"
#include "lodge/site_json.hpp"
#include "lodge/site_picture.hpp"
#include "lodge/site_read.hpp"

namespace skewback::lodge {
namespace {

using Json = nlohmann::ordered_json;

const std::string kAll = "/api/daybook", kRecord = "/api/daybook/record";

Reply refused(int status, Faults faults) {
  for (Fault& fault : faults) fault = for_phone(fault);
  return refusal(status, faults);
}

/// Of the file itself, not of what was asked: in use, broken, not there.
bool of_the_file(const Faults& faults) {
  return std::ranges::any_of(faults, [](const Fault& f) { return f.key == "daybook"; });
}

Reply not_written(const Faults& faults) { return refused(of_the_file(faults) ? 500 : 409, faults); }

Reply all(const Daybook& book, const Assembly* at, const Request& request) {
  if (!request.query.contains("picture"))
    return json_reply(site_json(book.plan(), book.events(), now_here()));
  Json out = {{"assembly", book.plan().assembly_sha256.substr(0, 12)}, {"picture", nullptr}};
  if (at != nullptr) {
    out["of_the_plan"] = same_blocks(*at, book.plan());
    out["picture"] = picture_json(*at);
  }
  return json_reply(out);
}

Reply one(const Daybook& book, const std::string& name) {
  if (name.size() > 4 * kNameMost)
    return refusal(404, "a name of " + std::to_string(name.size()) + " bytes is of no block");
  if (const auto fault = no_such_name(book.plan(), name)) return refused(404, {*fault});
  return json_reply(copy_json(book.plan(), book.events(), name, now_here()));
}

/// The very same, word for word and to the second: sent again because the answer was lost. Only
/// what gives its moment can be told from another.
const BlockEvent* written_before(const std::vector<BlockEvent>& events, const Entered& entered) {
  if (!entered.at) return nullptr;
  for (const BlockEvent& e : events) {
    const bool of_it = copy_name(e.block, e.copy) == entered.block ||
                       (entered.what == Happened::kReprinted && e.block == entered.block);
    if (of_it && e.what == entered.what && e.at.utc_s == entered.at->utc_s &&
        e.who == entered.who && e.note == entered.note)
      return &e;
  }
  return nullptr;
}

// Between looking and writing none of this program's other threads may write.
std::mutex& one_writer() {
  static std::mutex mutex;
  return mutex;
}

Reply record(Daybook& book, const Request& request) {
  const Result<RecordMessage> message = read_record(request.body);
  if (!message) return refused(400, message.faults());
  Faults unknown;
  for (const Entered& entered : message->entries)
    if (const auto fault = no_such_name(book.plan(), entered.block)) unknown.push_back(*fault);
  if (!unknown.empty()) return refused(400, unknown);
  const std::scoped_lock lock(one_writer());
  const std::vector<BlockEvent> before = book.events();
  std::vector<Entered> fresh;
  std::vector<BlockEvent> old;
  for (const Entered& entered : message->entries)
    if (const BlockEvent* const same = written_before(before, entered))
      old.push_back(*same);
    else
      fresh.push_back(entered);
  std::vector<BlockEvent> written;
  if (!fresh.empty()) {
    Result<std::vector<BlockEvent>> result = book.record(fresh, message->even_so);
    if (!result) return not_written(result.faults());
    written = std::move(result).value();
  }
  const std::vector<BlockEvent> after = book.events();
  return json_reply({{"number", after.empty() ? 0 : after.back().number},
                     {"events", events_json(written, after)},
                     {"written_before", events_json(old, after)}});
}

Reply cancel(Daybook& book, const Request& request) {
  const Result<CancelMessage> message = read_cancel(request.body);
  if (!message) return refused(400, message.faults());
  const std::scoped_lock lock(one_writer());
  const Result<BlockEvent> written =
      book.cancel(message->number, message->who, message->note, message->even_so);
  if (!written) return not_written(written.faults());
  return json_reply(
      {{"number", written->number}, {"events", events_json({*written}, book.events())}});
}

Reply opened(Daybook& book, const Assembly* at, const Request& request) {
  const bool posted = request.method == "POST";
  if (posted) return request.path == kRecord ? record(book, request) : cancel(book, request);
  if (request.path == kAll) return all(book, at, request);
  return one(book, request.path.substr(kAll.size() + 1));
}

}  // namespace

Reply site_reply(const std::filesystem::path& folder, const Assembly* at, const Request& request) {
  try {
    Result<Daybook> book = Daybook::open(folder);
    if (!book) return refused(500, book.faults());
    return opened(book.value(), at, request);
  } catch (const std::runtime_error& fault) {  // SQLite, as it reads the events
    return refusal(500, std::string("the daybook cannot be read: ") + fault.what());
  }
}

}  // namespace skewback::lodge
