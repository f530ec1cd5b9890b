# The deepest stack that a program can reach, from its disassembly (objdump -d): what each function
# pushes and reserves, along the deepest chain of calls. What is called through a pointer may be
# anything that nobody calls by name. Interrupts come on top. Set "room" to what is reserved.

function deepest(name, of, i, count, best, depth)
{
    if (name in known) {
        return known[name]
    }
    if (name in open_calls) {
        circle = 1
        return 0
    }
    open_calls[name] = 1
    best = 0
    count = split(calls[name], of, " ")
    for (i = 1; i <= count; i++) {
        depth = (of[i] == "*") ? by_pointer() : deepest(of[i])
        if (depth + call_bytes > best) {
            best = depth + call_bytes
        }
    }
    delete open_calls[name]
    known[name] = own[name] + best
    return known[name]
}

function by_pointer(name, best)
{
    if (pointed >= 0) {
        return pointed
    }
    pointed = 0
    for (name in own) {
        if (!(name in called) && is_plain(name) && deepest(name) > best) {
            best = known[name]
        }
    }
    pointed = best + 0
    return pointed
}

function is_plain(name)
{
    return name != "main" && name !~ /^[_.]/ && name !~ /_handler$/
}

function add_call(target)
{
    if (target == current || index(calls[current] " ", " " target " ") > 0) {
        return
    }
    calls[current] = calls[current] " " target
    if (target != "*" && current !~ /^__/) {
        called[target] = 1
    }
}

function hex(text, i, value)
{
    value = 0
    text = tolower(text)
    for (i = 1; i <= length(text); i++) {
        value = value * 16 + index("0123456789abcdef", substr(text, i, 1)) - 1
    }
    return value
}

BEGIN {
    pointed = -1
    call_bytes = 0
}

/file format elf32-avr/ {
    call_bytes = 2
    avr = 1
}

/^[0-9a-f]+ <.*>:$/ {
    current = $2
    gsub(/[<>:]/, "", current)
    own[current] += 0
    frame = 0
    next
}

current == "" { next }

# ---- AVR ----

avr && /\tpush\t/ { own[current]++ }
avr && /\trcall\t\.\+0/ { own[current] += 2; next }
avr && /\tin\tr29, 0x3e/ { frame = 1 }
avr && frame && match($0, /\tsbiw\tr28, 0x[0-9a-f]+/) {
    own[current] += hex(substr($0, RSTART + 13, RLENGTH - 13))
    frame = 0
}
avr && frame && match($0, /\tsubi\tr28, 0x[0-9a-f]+/) {
    own[current] += hex(substr($0, RSTART + 13, RLENGTH - 13))
    frame = 0
}
avr && /\ticall/ { add_call("*") }
avr && /\tijmp/ { add_call("*") }

# ---- ARM ----

!avr && /\t(push|stmdb|push\.w)\t/ && /\{/ {
    list = $0
    sub(/.*\{/, "", list)
    own[current] += 4 * split(list, registers, ",")
}
!avr && match($0, /\tsub(\.w)?\tsp, (sp, )?#[0-9]+/) {
    amount = substr($0, RSTART, RLENGTH)
    sub(/.*#/, "", amount)
    own[current] += amount
}
!avr && match($0, /\[sp, #-[0-9]+\]!/) { own[current] += substr($0, RSTART + 6, RLENGTH - 8) }
!avr && /\tblx\tr/ { add_call("*") }
!avr && /\tbx\tr[0-9]/ { add_call("*") }

# ---- both: a call or a jump to the begin of a function ----

match($0, /<[^>+]+>$/) && /\t(call|rcall|jmp|rjmp|bl|b|b\.n|b\.w)\t/ {
    add_call(substr($0, RSTART + 1, RLENGTH - 2))
}

END {
    bytes = deepest("main")
    for (name in own) {
        if (name ~ /^__vector_/ && deepest(name) + call_bytes > interrupt) {
            interrupt = known[name] + call_bytes
        }
    }
    printf "stack: at most %d bytes, %d are reserved%s\n", bytes + interrupt, room, circle ? " (without circles of calls)" : ""
}
