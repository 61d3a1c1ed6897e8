"""What a browser would send of a form as it stands on a page."""

import html
import re


def fields_of(page):
    """Give what a browser would send of the page's own form."""
    form = re.search(r'<form class="stack".*?</form>', page, re.DOTALL).group()
    sent = {}
    for tag in re.findall(r"<input[^>]*>", form):
        said = dict(re.findall(r'(\w+)="([^"]*)"', tag))
        if said.get("type") == "checkbox" and " checked" not in tag:
            continue
        sent[said["name"]] = html.unescape(said.get("value", ""))
    for name, options in re.findall(r'<select[^>]*name="([^"]*)">(.*?)</select>', form, re.DOTALL):
        values = re.findall(r'<option value="([^"]*)"( selected)?', options)
        sent[name] = html.unescape(next((value for value, on in values if on), values[0][0]))
    return sent
