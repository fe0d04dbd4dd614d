#pragma once

namespace skewback::lodge {

/// Shuts every connection that others made to `port` of this process, so that no thread waits on
/// one. The connections stay open as files: whoever holds them closes them.
void hang_up(int port);

}  // namespace skewback::lodge
