#include "daybook/sqlite.hpp"

namespace skewback {
namespace {

constexpr int kWait_ms = 10000;

sqlite3* opened(const std::string& file, bool make) {
  sqlite3* db = nullptr;
  const int flags = SQLITE_OPEN_READWRITE | (make ? SQLITE_OPEN_CREATE : 0);
  const int code = sqlite3_open_v2(file.c_str(), &db, flags, nullptr);
  if (code == SQLITE_OK) return db;
  const std::string what = db == nullptr ? "no memory" : sqlite3_errmsg(db);
  sqlite3_close(db);
  throw SqlFault(code, what);
}

}  // namespace

Sql::Sql(const std::string& file, bool make) : db_(opened(file, make), sqlite3_close) {
  sqlite3_extended_result_codes(db_.get(), 1);
  sqlite3_busy_timeout(db_.get(), kWait_ms);
}

void Sql::run(const std::string& statements) const {
  const int code = sqlite3_exec(db_.get(), statements.c_str(), nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) throw SqlFault(code, sqlite3_errmsg(db_.get()));
}

std::string Sql::one(const std::string& query) const {
  Query q(*this, query);
  return q.step() ? q.text_at(0) : "";
}

Query::Query(const Sql& sql, const std::string& text)
    : db_(sql.handle()), statement_(nullptr, sqlite3_finalize) {
  sqlite3_stmt* statement = nullptr;
  check(sqlite3_prepare_v2(db_, text.c_str(), -1, &statement, nullptr));
  statement_.reset(statement);
}

void Query::check(int code) const {
  if (code != SQLITE_OK) throw SqlFault(code, sqlite3_errmsg(db_));
}

Query& Query::text(const std::string& value) {
  check(sqlite3_bind_text(statement_.get(), ++bound_, value.data(), static_cast<int>(value.size()),
                          SQLITE_TRANSIENT));
  return *this;
}

Query& Query::text_or_null(const std::string& value) {
  if (!value.empty()) return text(value);
  check(sqlite3_bind_null(statement_.get(), ++bound_));
  return *this;
}

Query& Query::number(std::int64_t value) {
  check(sqlite3_bind_int64(statement_.get(), ++bound_, value));
  return *this;
}

Query& Query::number_or_null(const std::optional<std::int64_t>& value) {
  if (value) return number(*value);
  check(sqlite3_bind_null(statement_.get(), ++bound_));
  return *this;
}

bool Query::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  throw SqlFault(code, sqlite3_errmsg(db_));
}

std::string Query::text_at(int column) const {
  const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(statement_.get(), column));
  const int size = sqlite3_column_bytes(statement_.get(), column);
  return bytes == nullptr ? "" : std::string(bytes, static_cast<std::size_t>(size));
}

std::int64_t Query::number_at(int column) const {
  return sqlite3_column_int64(statement_.get(), column);
}

bool Query::null_at(int column) const {
  return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL;
}

}  // namespace skewback
