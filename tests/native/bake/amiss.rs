//! Feeds that are broken, are none, or are very big.

use super::feed::{ATOM, RSS, in_xhtml, one, with};
use plyline::bake::{Fault, parts, rewritten};

#[test]
fn what_is_no_json_is_told_with_its_place() {
    for (json, at) in [
        ("{", 1),
        ("{\"a\" 1}", 5),
        ("{\"a\": 1,}", 8),
        ("{\"a\": [1 2]}", 9),
        ("{\"a\": [1}}", 8),
        ("{\"a\": x}", 6),
        ("{\"a\": \"\n\"}", 7),
        ("{\"a\": \"x}", 6),
        ("{\"a\": \"\\x\"}", 7),
        ("{\"a\": \"\\ud83dx\"}", 7),
        ("{\"a\": \"\\u00e\"}", 7),
        ("{} {}", 3),
    ] {
        assert!(
            serde_json::from_str::<serde_json::Value>(json).is_err(),
            "{json}"
        );
        let error = parts(json).expect_err(json);
        assert!(matches!(error.fault, Fault::Json(_)), "{json}: {error}");
        assert_eq!(error.at.range().start, at, "{json}: {error}");
    }
    let deep = format!("{{\"a\": {}", "[".repeat(600));
    assert_eq!(parts(&deep).expect_err("deep").fault, Fault::Deep);
}

#[test]
fn what_is_broken_is_told_with_its_place() {
    for (xml, place) in [
        ("", ""),
        ("no markup", "no markup"),
        ("<rss>", "<rss>"),
        ("<rss></rss><rss/>", "<rss/>"),
        ("<rss></rss>x", "x"),
        ("<rss></rss><![CDATA[x]]>", "<![CDATA[x]]>"),
        ("<rss><a b=1/></rss>", "<a b=1/>"),
        ("<rss><a b=\"<\"/></rss>", "<a b=\"<\"/>"),
        ("<rss><a b=\"x&y\"/></rss>", "<a b=\"x&y\"/>"),
    ] {
        let error = parts(xml).expect_err(xml);
        assert!(matches!(error.fault, Fault::Broken(_)), "{xml}: {error}");
        assert_eq!(&xml[error.at.range()], place, "{xml}");
        assert!(
            error
                .to_string()
                .starts_with("this is not well-formed XML: ")
        );
    }
    for xml in [
        "<rss><a></b></rss>",
        "<rss><!-- ",
        "<rss><![CDATA[x</rss>",
        "<rss>a & b</rss>",
    ] {
        let error = parts(xml).expect_err(xml);
        assert!(matches!(error.fault, Fault::Broken(_)), "{xml}: {error}");
        assert!(error.at.range().end <= xml.len());
    }
}

#[test]
fn an_entity_that_xml_does_not_have_is_told() {
    let xml = one("a&nbsp;b");
    let error = parts(&xml).expect_err("an entity");
    assert_eq!(error.fault, Fault::Entity("nbsp".to_owned()));
    assert_eq!(&xml[error.at.range()], "&nbsp;");
    // A document type may define it, but what it says is not known.
    let typed = format!("<!DOCTYPE rss>{xml}");
    let error = parts(&typed).expect_err("an entity");
    assert_eq!(error.fault, Fault::Entity("nbsp".to_owned()));
    let outside = "<!DOCTYPE rss><rss a=\"&b;\"><channel><title>&nbsp;</title></channel></rss>";
    assert_eq!(parts(outside), Ok(Vec::new()));
}

#[test]
fn a_feed_in_another_encoding_is_refused() {
    let declared = |name: &str| format!("<?xml version=\"1.0\" encoding=\"{name}\"?>{}", one("x"));
    for name in ["ISO-8859-1", "utf-16", "windows-1252"] {
        let error = parts(&declared(name)).expect_err(name);
        assert_eq!(error.fault, Fault::Encoding(name.to_owned()));
        assert!(error.to_string().contains(name));
    }
    for name in ["UTF-8", "utf-8"] {
        assert_eq!(parts(&declared(name)).map(|it| it.len()), Ok(1));
    }
}

#[test]
fn elements_that_are_too_deep_in_each_other_are_told() {
    let deep = |n: usize| format!("{}{}", "<a>".repeat(n), "</a>".repeat(n));
    assert_eq!(parts(&deep(512)), Ok(Vec::new()));
    assert_eq!(parts(&deep(513)).expect_err("deep").fault, Fault::Deep);
    // In HTML that becomes XHTML they are beside each other instead, as in browsers.
    let changed = with(&in_xhtml("x"), |_| format!("{}y", "<b>".repeat(100_000)));
    assert!(changed.contains('y') && changed.ends_with("</div></content></entry>"));
}

#[test]
fn parts_of_another_text_are_passed_over() {
    let list = parts(RSS).expect("a feed");
    for other in ["", "x", "\u{1F600}\u{1F600}", ATOM] {
        let told = rewritten(other, &list, &mut |_, _| Some("y".to_owned()));
        assert!(told.len() <= other.len() + 40 * list.len());
    }
    assert_eq!(
        rewritten("short", &list, &mut |_, _| Some("y".to_owned())),
        "short"
    );
}

#[test]
fn xml_that_is_no_feed_has_no_parts() {
    for xml in [
        "<urlset xmlns=\"http://www.sitemaps.org/schemas/sitemap/0.9\"><url/></urlset>",
        "<feed><entry><content type=\"html\">x</content></entry></feed>",
        "<rss><channel><description>x</description></channel></rss>",
        "<rss><channel><item><description><p>x</p></description></item></channel></rss>",
        "<rss><channel><item><title>x</title><description>  </description></item></channel></rss>",
    ] {
        assert_eq!(parts(xml), Ok(Vec::new()), "{xml}");
    }
}

/// That it takes time as the length is measured by hand: `FEED_MB=16`, and `--nocapture` to see it.
#[test]
fn a_big_feed_of_any_shape_comes_through() {
    let size = match std::env::var("FEED_MB") {
        Ok(megabytes) => megabytes.parse::<usize>().expect("a number") << 20,
        Err(_) => 1 << 16,
    };
    let full = |piece: &str| piece.repeat(size / piece.len());
    let item = "<item><link>x</link><description>&lt;p>abc def</description></item>";
    let items = RSS.replace("</channel>", &(full(item) + "</channel>"));
    let names = (0..size / 16).map(|n| format!(" a{n}=\"\""));
    let attributes = format!("<p{}>x</p>", names.collect::<String>());
    for (name, xml) in [
        ("text", one(&full("abc def "))),
        ("references", one(&full("&lt;p>&#65;"))),
        ("pieces of CDATA", one(&full("<![CDATA[abc def]]>"))),
        ("ends", one(&format!("<![CDATA[{}]]>", full("]] ")))),
        ("XHTML", in_xhtml(&full("<p>a</p>"))),
        ("attributes", in_xhtml(&attributes)),
        ("items", items),
    ] {
        let began = std::time::Instant::now();
        let list = parts(&xml).expect(name);
        let mut told = 0;
        let changed = rewritten(&xml, &list, &mut |html, _| {
            told += html.len();
            Some(format!("{html}<br>"))
        });
        assert!(told >= size / 16, "{name}");
        assert!(changed.len() > xml.len() / 8, "{name}");
        assert_eq!(parts(&changed).expect(name).len(), list.len(), "{name}");
        let (took, kilobytes) = (began.elapsed().as_millis(), xml.len() >> 10);
        println!("{name}: {took} ms for {kilobytes} kB");
    }
}
