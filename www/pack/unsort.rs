//! Puts the core's bytes together again in the page. `sort.mjs` has sorted it, because deflate
//! finds little in plain code: first the kinds of all instructions, in their order, then the bytes
//! after them, sorted by what is beside them. A module of its own, because script would take three
//! times as long.
//!
//! Addresses are numbers here. The memory belongs to this module alone and is freed when the core
//! is compiled, and the build has put together the same bytes that a page gets: nothing else is
//! ever read.

#![no_std]
#![no_main]

/// How what is after an instruction is sorted; with no way nothing comes after it.
const ALONE: u32 = 1;
const BY_NEXT: u32 = 2;
const BY_LAST: u32 = 3;
/// A count, then as many bytes: the instruction itself or, where a function ends, its locals.
const WHOLE: u32 = 4;
const END: u32 = 5;

/// Bytes, or words of four, from an address on.
#[derive(Clone, Copy)]
struct Bytes(u32);
#[derive(Clone, Copy)]
struct Words(u32);

impl Bytes {
    fn get(self, at: u32) -> u32 {
        // The safety of these four: see above.
        unsafe { u32::from(*(self.0.wrapping_add(at) as *const u8)) }
    }
    fn set(self, at: u32, byte: u32) {
        unsafe { *(self.0.wrapping_add(at) as *mut u8) = byte as u8 }
    }
}

impl Words {
    fn get(self, at: u32) -> u32 {
        unsafe { *((self.0 + 4 * at) as *const u32) }
    }
    fn set(self, at: u32, word: u32) {
        unsafe { *((self.0 + 4 * at) as *mut u32) = word }
    }
}

/// Where the next byte is read or written.
struct Cursor(u32);

impl Cursor {
    fn read(&mut self) -> u32 {
        self.0 += 1;
        Bytes(self.0 - 1).get(0)
    }
    fn take(&mut self, size: u32) -> Bytes {
        self.0 += size;
        Bytes(self.0 - size)
    }
    fn write(&mut self, byte: u32) {
        Bytes(self.0).set(0, byte);
        self.0 += 1;
    }
    /// The same, eight at a time: some bytes after it are overwritten.
    fn paste(&mut self, from: Bytes, size: u32) {
        for at in (0..size).step_by(8) {
            let eight = from.0 + at;
            // The safety of these two: see above.
            unsafe {
                ((self.0 + at) as *mut u64).write_unaligned((eight as *const u64).read_unaligned())
            }
        }
        self.0 += size;
    }
    fn copy(&mut self, from: Bytes, size: u32) {
        for at in 0..size {
            self.write(from.get(at));
        }
    }
}

/// Sorts places by their keys, those with the same key as they come; `ends` has a word for each key.
fn sort(from: Words, to: Words, count: u32, ends: Words, keys: u32, key: impl Fn(u32) -> u32) {
    for key in 0..keys {
        ends.set(key, 0);
    }
    for at in 0..count {
        let key = key(from.get(at));
        ends.set(key, ends.get(key) + 1);
    }
    let mut before = 0;
    for key in 0..keys {
        let count = ends.get(key);
        ends.set(key, before);
        before += count;
    }
    for at in 0..count {
        let place = from.get(at);
        let key = key(place);
        let end = ends.get(key);
        to.set(end, place);
        ends.set(key, end + 1);
    }
}

/// Reads what `sort.mjs` has written to `packed` and writes the core to `core`; the memory from `work` on is
/// zero, and for use. Returns the length of the core.
#[unsafe(no_mangle)]
extern "C" fn unsort(packed: u32, core: u32, work: u32) -> u32 {
    let sizes = Words(packed);
    let (length, before, places) = (sizes.get(0), sizes.get(1), sizes.get(2));
    let (symbols, kinds, pairs) = (sizes.get(3), sizes.get(4), sizes.get(5));
    let mut packed = Cursor(packed + 24);
    let mut free = Cursor(work);

    // The kinds: the way of each and its head.
    let ways = packed.take(kinds);
    let lengths = packed.take(kinds);
    let heads = Words(free.take(4 * kinds).0);
    for kind in 0..kinds {
        heads.set(kind, packed.take(lengths.get(kind)).0);
    }

    // A symbol is a kind or a pair of earlier symbols: first what kinds each of them is.
    let pairs = Bytes(packed.take(2 * pairs).0);
    let all = kinds + (packed.0 - pairs.0) / 2;
    let starts = Words(free.take(4 * (all + 1)).0);
    let mut to = Cursor(free.0);
    for symbol in 0..=all {
        starts.set(symbol, to.0);
        if symbol < kinds {
            to.write(symbol);
        } else if symbol < all {
            for half in 0..2 {
                let part = pairs.get(2 * (symbol - kinds) + half);
                let from = starts.get(part);
                to.copy(Bytes(from), starts.get(part + 1) - from);
            }
        }
    }
    free.0 = to.0 + 8;
    free.take(2); // what is beside the first and the last place is zero
    let code = free.take(places + 8);
    let mut to = Cursor(code.0);
    for _ in 0..symbols {
        let symbol = packed.read();
        let from = starts.get(symbol);
        to.paste(Bytes(from), starts.get(symbol + 1) - from);
    }
    code.set(places, 0);
    code.set(places + 1, 0);

    // The places that have anything after them, sorted by the kinds beside them. Kinds that are sorted apart
    // come before those that are sorted together.
    let mut together = 0;
    while ways.get(together) != ALONE {
        together += 1;
    }
    let group = |place| code.get(place).min(together);
    free.0 = (free.0 + 3) & !3;
    let (mut order, mut other) = (
        Words(free.take(4 * places).0),
        Words(free.take(4 * places).0),
    );
    let mut count = 0;
    for place in 0..places {
        other.set(count, place);
        count += (ways.get(code.get(place)) > 0) as u32;
    }
    // By the further kind first, which is then the order of those that have the same nearer one.
    let keys = (together + 1) * 256;
    let ends = Words(free.take(4 * keys).0);
    let beside = |place: u32, steps: u32| match ways.get(code.get(place)) {
        BY_NEXT => code.get(place + steps),
        BY_LAST => code.get(place.wrapping_sub(steps)),
        _ => 0,
    };
    sort(other, order, count, ends, keys, |place| beside(place, 2));
    sort(order, other, count, ends, keys, |place| {
        group(place) * 256 + beside(place, 1)
    });
    (order, other) = (other, order);

    // What is after, a byte of each at a time: where there is more of it, by the byte before.
    let behind = Bytes(free.0);
    for nth in 0.. {
        let bytes = free.take(places);
        let mut more = 0;
        for at in 0..count {
            let place = order.get(at);
            let byte = packed.read();
            bytes.set(place, byte);
            let goes_on = match ways.get(code.get(place)) {
                WHOLE | END => nth < behind.get(place),
                _ => byte > 127,
            };
            order.set(more, place);
            more += goes_on as u32;
        }
        count = more;
        if count == 0 {
            break;
        }
        sort(order, other, count, ends, keys, |place| {
            group(place) * 256 + bytes.get(place)
        });
        (order, other) = (other, order);
    }

    let mut to = Cursor(core);
    to.copy(packed.take(before), before);
    let mut from = to.0;
    for place in 0..places {
        let kind = code.get(place);
        to.paste(Bytes(heads.get(kind)), lengths.get(kind));
        let byte = |nth| behind.get(nth * places + place);
        match ways.get(kind) {
            0 => {}
            WHOLE => (1..=byte(0)).for_each(|nth| to.write(byte(nth))),
            END => {
                // The size of a function is before it, and its locals.
                let body = to.0 - from;
                let mut size = byte(0) + body;
                let start =
                    from + byte(0) + (1..5).filter(|nth| size >> (7 * nth) > 0).count() as u32 + 1;
                unsafe { core::ptr::copy(from as *const u8, start as *mut u8, body as usize) }
                to.0 = from;
                while size > 127 {
                    to.write(size & 127 | 128);
                    size >>= 7;
                }
                to.write(size);
                (1..=byte(0)).for_each(|nth| to.write(byte(nth)));
                to.0 += body;
                from = to.0;
            }
            _ => {
                let mut nth = 0;
                while byte(nth) > 127 {
                    to.write(byte(nth));
                    nth += 1;
                }
                to.write(byte(nth));
            }
        }
    }
    to.copy(packed.take(0), core + length - to.0);
    length
}

#[panic_handler]
fn panic(_: &core::panic::PanicInfo) -> ! {
    loop {}
}
