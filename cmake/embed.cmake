# Writes TO/built_page.cpp and TO/built_page.S: the files under FROM, by name, as bytes of the program.
file(GLOB_RECURSE files RELATIVE ${FROM} ${FROM}/*)
list(SORT files)
set(data "")
set(names "")
set(rows "")
set(number 0)
foreach(file ${files})
  string(APPEND data ".global lodge_part_${number}\nlodge_part_${number}:\n.incbin \"${FROM}/${file}\"\n"
    ".global lodge_part_${number}_end\nlodge_part_${number}_end:\n.byte 0\n.balign 16\n")
  string(APPEND names "extern \"C\" const char lodge_part_${number}[], lodge_part_${number}_end[];\n")
  string(APPEND rows "      {\"${file}\", {lodge_part_${number}, static_cast<std::size_t>(lodge_part_${number}_end - lodge_part_${number})}},\n")
  math(EXPR number "${number} + 1")
endforeach()
file(WRITE ${TO}/built_page.S ".section .rodata\n.balign 16\n${data}.section .note.GNU-stack,\"\",%progbits\n")
file(WRITE ${TO}/built_page.cpp "#include \"lodge/assets.hpp\"\n\n${names}
std::vector<skewback::lodge::Asset> skewback::lodge::built_page() {
  return {
${rows}  };
}
")
