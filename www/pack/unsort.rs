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
    fn copy(&mut self, from: Bytes, size: u32) {
        for at in 0..size {
            self.write(from.get(at));
        }
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

    // A symbol is a kind or a pair of earlier symbols.
    let pairs = packed.take(2 * pairs);
    free.take(2); // what is beside the first and the last place is zero
    let code = free.take(places + 2);
    let mut to = Cursor(code.0);
    let mut open = [0; 64];
    for _ in 0..symbols {
        let mut count = 1;
        open[0] = packed.read();
        while count > 0 {
            count -= 1;
            let symbol = open[count & 63];
            if symbol < kinds {
                to.write(symbol);
            } else {
                let pair = 2 * (symbol - kinds);
                open[count & 63] = pairs.get(pair + 1);
                open[(count + 1) & 63] = pairs.get(pair);
                count += 2;
            }
        }
    }

    // Chains of places: for each key the first, and for each place the next of its key; one more
    // than the place, because none is zero. Kinds that are sorted apart stand before those that are
    // sorted together.
    let mut together = 0;
    while ways.get(together) != ALONE {
        together += 1;
    }
    let group = |place| code.get(place).min(together);
    free.0 = (free.0 + 3) & !3;
    let next = Words(free.take(4 * places).0);
    let chain = |first: Words, key, place| {
        next.set(place, first.get(key));
        first.set(key, place + 1);
    };
    let mut keys = (together + 1) * kinds * kinds;
    let mut first = Words(free.take(4 * keys).0);
    for place in (0..places).rev() {
        let beside = |step: u32| {
            let (one, two) = (place.wrapping_add(step), place.wrapping_add(2 * step));
            code.get(one) * kinds + code.get(two)
        };
        let beside = match ways.get(code.get(place)) {
            0 => continue,
            BY_NEXT => beside(1),
            BY_LAST => beside(u32::MAX),
            _ => 0,
        };
        chain(first, group(place) * kinds * kinds + beside, place);
    }

    // What is after, a byte of each at a time: those first that are sorted by the kinds beside them, then
    // those sorted by the byte before.
    let further = Words(free.take(4 * (together + 1) * 256).0);
    let more = Words(free.take(4 * places).0);
    let behind = Bytes(free.0);
    for nth in 0.. {
        let bytes = free.take(places);
        let mut count = 0;
        for key in 0..keys {
            let mut link = first.get(key);
            first.set(key, 0);
            while link > 0 {
                let place = link - 1;
                let byte = packed.read();
                bytes.set(place, byte);
                let goes_on = match ways.get(code.get(place)) {
                    WHOLE | END => nth < behind.get(place),
                    _ => byte > 127,
                };
                if goes_on {
                    more.set(count, place);
                    count += 1;
                }
                link = next.get(place);
            }
        }
        if count == 0 {
            break;
        }
        first = further;
        keys = (together + 1) * 256;
        while count > 0 {
            count -= 1;
            let place = more.get(count);
            chain(first, group(place) * 256 + bytes.get(place), place);
        }
    }

    let mut to = Cursor(core);
    to.copy(packed.take(before), before);
    let mut from = to.0;
    for place in 0..places {
        let kind = code.get(place);
        to.copy(Bytes(heads.get(kind)), lengths.get(kind));
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
                for at in (0..body).rev() {
                    Bytes(start).set(at, Bytes(from).get(at));
                }
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
