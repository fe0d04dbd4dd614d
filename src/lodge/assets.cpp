#include "lodge/assets.hpp"

#include <algorithm>

#include "base/sha256.hpp"

namespace skewback::lodge {
namespace {

std::string media_type(std::string_view name) {
  static const std::pair<const char*, const char*> types[] = {
      {".html", "text/html; charset=utf-8"},
      {".js", "text/javascript; charset=utf-8"},
      {".css", "text/css; charset=utf-8"},
      {".svg", "image/svg+xml"},
      {".png", "image/png"},
      {".ico", "image/x-icon"},
      {".woff2", "font/woff2"},
      {".wasm", "application/wasm"},
      {".json", "application/json"},
      {".webmanifest", "application/manifest+json"}};
  for (const auto& [end, type] : types)
    if (name.ends_with(end)) return type;
  return "application/octet-stream";
}

}  // namespace

Pages::Pages(std::vector<Asset> assets, std::string token) : token_(std::move(token)) {
  for (Asset& asset : assets) {
    const std::string tag = "\"" + sha256(asset.bytes).substr(0, 20) + "\"";
    parts_.push_back({std::move(asset), tag});
  }
}

const Pages::Part* Pages::find(std::string_view name) const {
  const auto found = std::find_if(parts_.begin(), parts_.end(),
                                  [&](const Part& p) { return p.asset.name == name; });
  return found == parts_.end() ? nullptr : &*found;
}

std::string_view Pages::for_viewing() const {
  const Part* part = find("view.html");
  return part == nullptr ? std::string_view() : part->asset.bytes;
}

// With the token in it, so it is never kept by the browser.
Reply Pages::page(const Part& part) const {
  std::string html(part.asset.bytes);
  const std::size_t head = html.find("<head>");
  if (!token_.empty() && head != std::string::npos)
    html.insert(head + 6, "<meta name=\"lodge-token\" content=\"" + token_ + "\">");
  return {200, media_type(part.asset.name), std::move(html), {{"Cache-Control", "no-store"}}};
}

Reply Pages::reply(const Request& request) const {
  const bool root = request.path == "/", site = request.path == "/site";
  const Part* part = root   ? find("index.html")
                     : site ? find("site.html")
                            : find(std::string_view(request.path).substr(1));
  if (parts_.empty() && (root || site))
    return refusal(404,
                   "this program was built without its page; what is under /api answers as ever");
  if (part == nullptr || (!root && !site && part->asset.name.ends_with(".html")))
    return refusal(404, "there is nothing at this address");
  if (request.method != "GET" && request.method != "HEAD") {
    Reply reply = refusal(405, "expected GET, HEAD");
    reply.headers["Allow"] = "GET, HEAD";
    return reply;
  }
  if (root || site) return page(*part);
  return tagged({200, media_type(part->asset.name), std::string(part->asset.bytes), {}}, part->tag,
                request);
}

}  // namespace skewback::lodge
