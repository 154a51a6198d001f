//! What stands before the music: title, encoding, page and credits.

use score::{Break, Score};

use crate::credit::Credits;
use crate::page;
use crate::sink::Sink;

/// Title, identification, defaults and credits.
pub(crate) fn head(sink: &mut Sink<'_>, score: &Score, credits: &Credits<'_>, concert: bool) {
    sink.put("  <movement-title>");
    sink.text(&score.title);
    sink.put("</movement-title>\n");
    identification(sink, score);
    page::defaults(sink, score.page, concert);
    credits.write(sink, score.page);
}

fn identification(sink: &mut Sink<'_>, score: &Score) {
    let mut breaks = score
        .part
        .measures
        .iter()
        .filter_map(|measure| measure.begins);
    let lines = breaks.clone().next().is_some();
    let pages = breaks.any(|begins| begins == Break::Page);
    sink.put("  <identification>\n");
    if let Some(author) = &score.imprint.author {
        sink.put("    <creator type=\"composer\">");
        sink.text(author);
        sink.put("</creator>\n");
    }
    if let Some(rights) = &score.imprint.rights {
        sink.put("    <rights>");
        sink.text(rights);
        sink.put("</rights>\n");
    }
    sink.put(concat!(
        "    <encoding>\n",
        "      <software>Twelvefold</software>\n",
        "      <supports element=\"accidental\" type=\"yes\"/>\n",
        "      <supports element=\"beam\" type=\"yes\"/>\n",
        "      <supports element=\"stem\" type=\"no\"/>\n",
    ));
    // A reader that is promised every break makes none of its own.
    sink.put(if lines {
        "      <supports element=\"print\" attribute=\"new-system\" type=\"yes\" value=\"yes\"/>\n"
    } else {
        "      <supports element=\"print\" attribute=\"new-system\" type=\"no\"/>\n"
    });
    sink.put(if pages {
        "      <supports element=\"print\" attribute=\"new-page\" type=\"yes\" value=\"yes\"/>\n"
    } else {
        "      <supports element=\"print\" attribute=\"new-page\" type=\"no\"/>\n"
    });
    sink.put("    </encoding>\n  </identification>\n");
}
