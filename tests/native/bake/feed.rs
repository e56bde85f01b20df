//! Feeds with other HTML in them, read again by XML readers that are not ours; `tests/oracles/feeds.py`
//! reads with feedparser what is written down here.

use plyline::bake::{Part, Written, parts, rewritten};
use roxmltree::{Document, Node};
use std::path::Path;

pub const RSS: &str = r#"<?xml version="1.0" encoding="utf-8"?>
<rss version="2.0" xmlns:content="http://purl.org/rss/1.0/modules/content/"
  xmlns:atom="http://www.w3.org/2005/Atom">
 <channel><title>Lines</title><link>https://lines.example/</link>
  <description>&lt;b&gt;not an entry's&lt;/b&gt;</description>
  <item>
    <title>One &lt;b&gt;</title>
    <description>
      &lt;p title=&quot;a&#38;b&quot;&gt;4.cxd5 &#x26;amp; more&lt;/p&gt;
    </description>
    <link> https://lines.example/one.html?a=1&amp;b=2 </link>
    <content:encoded><![CDATA[<p>4.cxd5 & ]]]]><![CDATA[> more &amp; more</p>]]></content:encoded>
  </item>
  <item>
    <guid isPermaLink="false">tag:two</guid>
    <description><![CDATA[<pre><code class="language-pgn">1. d4 d5 *
</code></pre>]]></description>
  </item>
  <item><guid>https://lines.example/three</guid><description>three</description><description/></item>
 </channel>
</rss>
"#;

pub const ATOM: &str = r#"<?xml version='1.0'?>
<feed xmlns="http://www.w3.org/2005/Atom" xmlns:x="http://www.w3.org/1999/xhtml" xml:base="https://lines.example/">
  <title type="html">&lt;i>Lines&lt;/i></title>
  <entry xml:base="/posts/">
    <link rel="self" href="self.xml"/>
    <content type="html">&lt;p>one&lt;br>two&lt;/p></content>
    <summary>plain &lt;text></summary>
    <source><link href="https://elsewhere.example/"/><summary type="html">&lt;p></summary></source>
    <link href="one.html"/>
    <link rel="alternate" href="one.txt"/>
  </entry>
  <entry>
    <content type="xhtml"><div xmlns="http://www.w3.org/1999/xhtml"><p class='a"b'>4.cxd5&#160;&amp; <br/>more<a
      name="x"/> &lt;b></p><pre>
1. d4 *
</pre><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><path d="M0 0"/></svg></div></content>
    <summary type="xhtml" xml:base="b/"><x:div><x:p>in<x:em>side</x:em></x:p><![CDATA[<&]]></x:div></summary>
  </entry>
  <entry><content type="text/html">&lt;p></content><content type="image/png">AAAA</content></entry>
</feed>
"#;

const JSON: &str = r#" {
  "version": "https://jsonfeed.org/version/1.1", "content_html": "none", "expired": false, "n": [-1.5e3, null, {}, []],
  "items": [
    {"id": "1", "content_html": "\u003cp title=\"a\u00e4\ud83d\ude00\"\u003e4.cxd5\n\/<\/p>", "url": "one.html",
      "attachments": [{"url": "x", "content_html": "none"}]},
    {"content_html": "<p>", "content_text": "none"},
    {"url": "three", "content_html": ""}
  ]
}
"#;

/// The HTML of each part.
fn told(xml: &str) -> Vec<String> {
    let list = parts(xml).unwrap_or_else(|error| panic!("{error} in {xml}"));
    let mut told = Vec::new();
    let same = rewritten(xml, &list, &mut |html, _| {
        told.push(html.to_owned());
        None
    });
    assert_eq!(same, xml);
    told
}

/// The feed with other HTML in every part.
pub fn with(xml: &str, bake: impl Fn(&str) -> String) -> String {
    let list = parts(xml).unwrap_or_else(|error| panic!("{error} in {xml}"));
    rewritten(xml, &list, &mut |html, _| Some(bake(html)))
}

pub fn one(written: &str) -> String {
    format!("<rss><channel><item><description>{written}</description></item></channel></rss>")
}

pub fn in_xhtml(written: &str) -> String {
    format!(
        "<entry xmlns=\"http://www.w3.org/2005/Atom\"><content type=\"xhtml\">\
         <div xmlns=\"http://www.w3.org/1999/xhtml\">{written}</div></content></entry>"
    )
}

#[test]
fn rss_hands_out_descriptions_and_contents_of_items_and_nothing_else() {
    assert_eq!(
        told(RSS),
        [
            "<p title=\"a&b\">4.cxd5 &amp; more</p>",
            "<p>4.cxd5 & ]]> more &amp; more</p>",
            "<pre><code class=\"language-pgn\">1. d4 d5 *\n</code></pre>",
            "three",
        ]
    );
    let list = parts(RSS).expect("a feed");
    let ways: Vec<Written> = list.iter().map(|part| part.written).collect();
    use Written::{Cdata, Escaped};
    assert_eq!(ways, [Escaped, Cdata, Cdata, Escaped]);
    assert!(RSS[list[0].span.range()].starts_with("&lt;p title"));
    assert!(RSS[list[0].span.range()].ends_with("/p&gt;"));
}

#[test]
fn an_entrys_own_page_is_its_link_or_else_its_permanent_address() {
    let links = |xml| -> Vec<Option<String>> {
        let list = parts(xml).expect("a feed");
        list.into_iter().map(|part| part.link).collect()
    };
    let one = Some("https://lines.example/one.html?a=1&b=2".to_owned());
    let three = Some("https://lines.example/three".to_owned());
    assert_eq!(links(RSS), [one.clone(), one, None, three]);
    let one = Some("one.html".to_owned());
    assert_eq!(links(ATOM), [one, None, None, None]);
}

#[test]
fn the_nearest_base_of_a_part_is_told() {
    let list = parts(ATOM).expect("a feed");
    let bases: Vec<_> = list.iter().map(|part| part.base.as_deref()).collect();
    let site = Some("https://lines.example/");
    assert_eq!(bases, [Some("/posts/"), site, Some("b/"), site]);
}

#[test]
fn atom_hands_out_html_and_xhtml_of_entries_as_html() {
    assert_eq!(
        told(ATOM),
        [
            "<p>one<br>two</p>",
            "<p class=\"a&quot;b\">4.cxd5\u{a0}&amp; <br>more<a name=\"x\"></a> &lt;b&gt;</p><pre>\n\n1. d4 *\n</pre>\
             <svg viewBox=\"0 0 1 1\"><path d=\"M0 0\"></path></svg>",
            "<p>in<em>side</em></p>&lt;&amp;",
            "<p>",
        ]
    );
}

#[test]
fn json_hands_out_the_html_of_items() {
    assert_eq!(
        told(JSON),
        ["<p title=\"a\u{e4}\u{1F600}\">4.cxd5\n/</p>", "<p>"]
    );
    let list = parts(JSON).expect("a feed");
    let links: Vec<_> = list.iter().map(|part| part.link.as_deref()).collect();
    assert_eq!(links, [Some("one.html"), None]);
    let changed = with(JSON, |html| format!("{html}\"\\\u{1}\t\u{1F600}"));
    let read: serde_json::Value = serde_json::from_str(&changed).expect("JSON");
    let mut wanted: serde_json::Value = serde_json::from_str(JSON).expect("JSON");
    for at in [0, 1] {
        let was = wanted["items"][at]["content_html"].as_str().expect("HTML");
        wanted["items"][at]["content_html"] = format!("{was}\"\\\u{1}\t\u{1F600}").into();
    }
    assert_eq!(read, wanted);
    assert_eq!(
        parts(&JSON.replace("jsonfeed.org", "lines.example")),
        Ok(Vec::new())
    );
}

#[test]
fn nothing_changes_where_the_same_html_comes_back() {
    let pieces = one("<![CDATA[<p>a]]>&amp;b<!-- c --><![CDATA[</p>]]>");
    for xml in [RSS, ATOM, JSON, &pieces] {
        assert_eq!(with(xml, str::to_owned), xml);
        let marked = format!("\u{feff}{}", xml.replace('\n', "\r\n"));
        assert_eq!(with(&marked, str::to_owned), marked);
    }
}

#[test]
fn what_comes_back_is_written_as_it_was_and_every_other_byte_stays() {
    let baked = "<p>a&amp;b]]>\u{0}\u{1F600}<br></p>";
    for (xml, marked) in [(RSS, false), (ATOM, false), (RSS, true), (ATOM, true)] {
        let xml = match marked {
            true => format!("\u{feff}{}", xml.replace('\n', "\r\n")),
            false => xml.to_owned(),
        };
        let before = parts(&xml).expect("a feed");
        let changed = with(&xml, |_| baked.to_owned());
        let after = parts(&changed).expect("still a feed");
        assert_eq!(before.len(), after.len());
        let outside = |xml: &str, parts: &[Part]| {
            let mut done = 0;
            let mut kept = Vec::new();
            for part in parts {
                kept.push(xml[done..part.span.range().start].to_owned());
                done = part.span.range().end;
            }
            kept.push(xml[done..].to_owned());
            kept
        };
        assert_eq!(outside(&xml, &before), outside(&changed, &after));
        for (part, html) in after.iter().zip(told(&changed)) {
            let wanted = match part.written {
                Written::Xhtml => "<p>a&amp;b]]&gt;\u{1F600}<br></p>",
                _ => "<p>a&amp;b]]>\u{1F600}<br></p>",
            };
            assert_eq!(html, wanted);
        }
        let ways = |parts: &[Part]| parts.iter().map(|it| it.written).collect::<Vec<_>>();
        assert_eq!(ways(&before), ways(&after));
        Document::parse(changed.trim_start_matches('\u{feff}')).expect("XML");
    }
}

#[test]
fn one_part_may_change_and_another_stay() {
    let list = parts(RSS).expect("a feed");
    let changed = rewritten(RSS, &list, &mut |_, part| {
        (part.link.is_none()).then(|| "<p>new</p>".to_owned())
    });
    let was = &RSS[list[2].span.range()];
    assert_eq!(changed, RSS.replace(was, "<![CDATA[<p>new</p>]]>"));
}

/// What another reader has in the `div` of an entry, as names, attributes and texts.
fn shown(xml: &str) -> String {
    fn show(node: Node<'_, '_>, into: &mut String) {
        for child in node.children() {
            if let Some(text) = child.text().filter(|_| child.is_text()) {
                into.push_str(text);
            }
            if child.is_element() {
                let space = child.tag_name().namespace().unwrap_or_default();
                let space = space.rsplit('/').next().unwrap_or_default();
                into.push_str(&format!("<{space} {}", child.tag_name().name()));
                for it in child.attributes() {
                    into.push_str(&format!(" {}={}", it.name(), it.value()));
                }
                into.push('>');
                show(child, into);
                into.push_str("</>");
            }
        }
    }
    let read = Document::parse(xml).unwrap_or_else(|error| panic!("{error}: {xml}"));
    let div = read.descendants().find(|it| it.tag_name().name() == "div");
    let mut told = String::new();
    show(div.expect("a div"), &mut told);
    told
}

#[test]
fn any_html_becomes_well_formed_xhtml() {
    for (html, wanted) in [
        ("<p>a<p>b", "<xhtml p>a</><xhtml p>b</>"),
        (
            "<ul><li>a<li>b</ul>",
            "<xhtml ul><xhtml li>a</><xhtml li>b</></>",
        ),
        (
            "a<br>b<IMG src=x alt='\"'>",
            "a<xhtml br></>b<xhtml img src=x alt=\"></>",
        ),
        (
            "<a hidden href=x?a=1&b=2 HREF=y>z</a>",
            "<xhtml a hidden= href=x?a=1&b=2>z</>",
        ),
        ("&nbsp;&copy;&lt;&bogus;", "\u{a0}\u{a9}<&bogus;"),
        ("a<b", "a"),
        ("</p>a</div></div>b", "ab"),
        (
            "<p :x=1 @click=2 x:y=3 onclick=4 é=5 xml:lang=de 1=6>a",
            "<xhtml p onclick=4 é=5 lang=de>a</>",
        ),
        ("<o:p>word</o:p><a<b>c", "word"),
        (
            "<script>if (a<b && c) {}</script>d",
            "<xhtml script>if (a<b && c) {}</>d",
        ),
        (
            "<pre>\nx</pre><pre><b>y</b>\nz</pre>",
            "<xhtml pre>x</><xhtml pre><xhtml b>y</>\nz</>",
        ),
        (
            "<svg viewBox='0 0 1 1'><linearGradient xlink:href='#a'/></svg>e",
            "<svg svg viewBox=0 0 1 1><svg linearGradient href=#a></></>e",
        ),
        (
            "<svg><foreignObject><p>x<br></p></foreignObject><g/></svg>",
            "<svg svg><svg foreignObject><xhtml p>x<xhtml br></></></><svg g></></>",
        ),
    ] {
        let changed = with(&in_xhtml("<p>was</p>"), |_| html.to_owned());
        let told = shown(&changed);
        let told = told.replace("xmlns", "");
        assert!(
            told.starts_with(wanted) || told == wanted,
            "{html} is {told}, not {wanted}"
        );
    }
}

#[test]
fn a_prefix_of_xhtml_stays() {
    let feed = "<a:entry xmlns:a=\"http://www.w3.org/2005/Atom\" xmlns:h=\"http://www.w3.org/1999/xhtml\">\
        <a:content type=\"xhtml\"><h:div><h:p>was</h:p></h:div></a:content></a:entry>";
    let changed = with(feed, |_| "<p>new<br></p><svg><g/></svg>".to_owned());
    assert_eq!(
        shown(&changed),
        "<xhtml p>new<xhtml br></></><svg svg><svg g></></>"
    );
}

/// What `tests/oracles/feeds.py` reads: feeds before and after `<p>written by plyline</p>` was added to
/// every part.
#[test]
fn feeds_before_and_after_are_written_down_for_another_reader() {
    let cases = [("rss", RSS), ("atom", ATOM)];
    for (name, xml) in cases {
        let changed = with(xml, |html| format!("{html}<p>written by plyline</p>"));
        assert_eq!(
            changed.matches("written by plyline").count(),
            parts(xml).expect("a feed").len()
        );
        if let Ok(folder) = std::env::var("PLYLINE_CHOICES") {
            let folder = Path::new(&folder);
            std::fs::write(folder.join(format!("{name}-before.xml")), xml).expect("a folder");
            std::fs::write(folder.join(format!("{name}-after.xml")), changed).expect("a folder");
        }
    }
}
