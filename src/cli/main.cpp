#include "cli/commands.hpp"

int main(int argc, char** argv) { return skewback::cli::main_command(argc, argv); }
