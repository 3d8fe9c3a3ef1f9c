" Colours that need no server: comments, words in quotes, the words that open a statement, numbers.
if exists("b:current_syntax")
  finish
endif

syntax match haunchComment "#.*$"
syntax region haunchWords start=+"+ end=+"+ oneline
syntax match haunchNote "^\s*note\s.*$" contains=haunchOpening
syntax match haunchOpening "^\s*\%(sheet\|note\|results in\|material\|section\|forces\|beam\|rect\|circle\|round tube\|deduct\|point\|support\|hinge\|load\|combination\|limit\|verify\|expect\|answer\|use\|allow\)\>"
syntax match haunchNumber "\<\d\+\%(\.\d\+\)\?\%([eE][+-]\?\d\+\)\?"
syntax match haunchShown "\[[^]]*\]"

highlight default link haunchComment Comment
highlight default link haunchWords String
highlight default link haunchNote String
highlight default link haunchOpening Statement
highlight default link haunchNumber Number
highlight default link haunchShown Type

let b:current_syntax = "haunch"
