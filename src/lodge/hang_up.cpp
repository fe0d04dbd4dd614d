#include "lodge/hang_up.hpp"

#include <arpa/inet.h>
#include <sys/resource.h>
#include <sys/socket.h>

#include <algorithm>
#include <optional>

namespace skewback::lodge {
namespace {

std::optional<int> port_of(const sockaddr_storage& address) {
  if (address.ss_family == AF_INET)
    return ntohs(reinterpret_cast<const sockaddr_in&>(address).sin_port);
  if (address.ss_family == AF_INET6)
    return ntohs(reinterpret_cast<const sockaddr_in6&>(address).sin6_port);
  return std::nullopt;
}

bool is_from(int file, int port) {
  sockaddr_storage here{}, there{};
  socklen_t size = sizeof here;
  if (getsockname(file, reinterpret_cast<sockaddr*>(&here), &size) != 0) return false;
  size = sizeof there;
  return port_of(here) == port &&
         getpeername(file, reinterpret_cast<sockaddr*>(&there), &size) == 0;
}

}  // namespace

void hang_up(int port) {
  rlimit most{};
  if (getrlimit(RLIMIT_NOFILE, &most) != 0) return;
  const int last = static_cast<int>(std::min<rlim_t>(most.rlim_cur, 65536));
  for (int file = 0; file < last; ++file)
    if (is_from(file, port)) shutdown(file, SHUT_RDWR);
}

}  // namespace skewback::lodge
