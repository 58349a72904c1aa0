"""Words in ASCII, for files whose readers may lack every other letter.

Accents are taken off, Greek and Cyrillic letters written in Latin ones (much as ISO 843 and ISO 9 do,
without their accents; from memory), common signs written out; whatever is left becomes `?`.
"""

import unicodedata

_SIGNS = {
    "°": " deg", "×": "x", "÷": "/", "±": "+/-", "·": ".", "•": "*", "–": "-", "—": "-", "‐": "-", "‑": "-",
    "−": "-", "‘": "'", "’": "'", "‚": ",", "“": '"', "”": '"', "„": '"', "«": '"', "»": '"', "′": "'",
    "″": '"', "…": "...", "→": "->", "←": "<-", "↑": "up", "↓": "down", "≤": "<=", "≥": ">=", "≈": "~",
    "≠": "!=", "⁄": "/", "€": "EUR", "£": "GBP", "¥": "JPY", "§": "par.", "©": "(c)", "®": "(R)", "µ": "u",
    "⌀": "dia ", "Ø": "O", "ø": "o", "ß": "ss", "ẞ": "SS", "Æ": "AE", "æ": "ae", "Œ": "OE", "œ": "oe",
    "Đ": "D", "đ": "d", "Ð": "D", "ð": "d", "Þ": "Th", "þ": "th", "Ł": "L", "ł": "l", "ı": "i", "Ħ": "H",
    "ħ": "h", "Ŋ": "N", "ŋ": "n",
}  # fmt: skip

_GREEK = {
    "α": "a", "β": "v", "γ": "g", "δ": "d", "ε": "e", "ζ": "z", "η": "i", "θ": "th", "ι": "i", "κ": "k",
    "λ": "l", "μ": "m", "ν": "n", "ξ": "x", "ο": "o", "π": "p", "ρ": "r", "σ": "s", "ς": "s", "τ": "t",
    "υ": "y", "φ": "f", "χ": "ch", "ψ": "ps", "ω": "o",
}  # fmt: skip

_CYRILLIC = {
    "а": "a", "б": "b", "в": "v", "г": "g", "д": "d", "е": "e", "ж": "zh", "з": "z", "и": "i", "й": "j",
    "к": "k", "л": "l", "м": "m", "н": "n", "о": "o", "п": "p", "р": "r", "с": "s", "т": "t", "у": "u",
    "ф": "f", "х": "h", "ц": "c", "ч": "ch", "ш": "sh", "щ": "shch", "ы": "y", "э": "e", "ю": "yu",
    "я": "ya", "ё": "yo", "ђ": "dj", "ѓ": "g", "є": "ye", "ѕ": "z", "і": "i", "ї": "yi", "ј": "j",
    "љ": "lj", "њ": "nj", "ћ": "c", "ќ": "k", "ў": "u", "џ": "dz", "ґ": "g", "ъ": "", "ь": "",
}  # fmt: skip


def ascii_words(text: str) -> str:
    """The text in printable ASCII, white space as blanks."""
    return "".join(map(_ascii, unicodedata.normalize("NFC", text)))


def _ascii(letter: str) -> str:
    if letter.isascii():
        return letter if letter.isprintable() else " " if letter.isspace() else "?"
    if letter.isspace():
        return " "
    if letter in _SIGNS:
        return _SIGNS[letter]
    for table in (_GREEK, _CYRILLIC):
        if letter.lower() in table:
            latin = table[letter.lower()]
            return latin if letter.islower() else latin.capitalize()
    return _without_accents(letter)


def _without_accents(letter: str) -> str:
    """The letter's parts without their accents; a fraction keeps a blank before it."""
    parts = unicodedata.normalize("NFKD", letter)
    if parts == letter:
        return "?"
    if "⁄" in parts:
        return " " + parts.replace("⁄", "/")
    bare = [part for part in parts if not unicodedata.combining(part)]
    return "".join(part if part.isascii() and part.isprintable() else _ascii(part) for part in bare) or "?"
