"""Letters before a bearing number: those that change nothing, and those that name another thing.

SCE1212 is no self-aligning 1212 and C2206 no 2206: letters that belong to a series of their own, or
that are joined to the number and not known, are never dropped. Common usage throughout.
"""

from __future__ import annotations

import re

_HARMLESS = frozenset(
    ("4T", "ET", "HR", "TM", "AC", "BL", "HC", "BB", "BRG", "NO", "NR", "TYPE", "REF")
)
"""Steel, cage and filling letters that makers put before a whole metric number (4T-30207), and the
words before one. From memory; the boundary dimensions stay those of the number."""

_LISTED = (
    "A AH AHX AN ANS AS ASNH AW AXK AXN AXW AY AZ B BA BAM BCE BCH BH BHA BHAM BK C CF CFE CR",
    "CS CSA CSB CSK D DU DX EN ER F FC FCL FNTA FWF FY FYT G GAR GC GE GEEW GEH GEZ GF GIR GS",
    "GT GX GY H HA HE HF HFL HI HJ HK HM HMK HN HS HSN IR J JB JH JL JLM JM JNS JP JW K KB",
    "KBK KCR KH KM KMB KML KR KRE KRV KT KWK L LB LBB LBE LH LL LM LME LMF LR LRT LRTZ LS LSM",
    "LT M MB MBL MH MJ MJH MS N NA NAF NAG NAO NART NAST NATB NATR NATV NAX NBR NCF NF NJ NJF",
    "NK NKI NKIA NKIB NKIS NKS NKX NN NNC NNCF NNU NP NTA NTB NU NUP NUTR NX P PA PAF PAP PAW",
    "PAX PB PC PCM PHS PNA POS PW QJ R RA RAE RALE RASE RC RCB RLS RMS RN RNA RNAF RNAO RNU",
    "RS RSTO RT S SA SAF SAL SALF SAR SB SBPF SC SCE SCH SD SI SIL SK SL SN SNH SNL SPA SPB",
    "SPZ SQ ST STO SW SY SYJ T TA TAF TAM TB TC TG TL TLA TP TR TRA TRB TRC TT TTI U UC UCF",
    "UCFC UCFL UCHA UCP UCPA UCT UEL UK UKF UKP UKT V VA VS W WJ WS XLRJ LRJ MRJ YAR YAT YEL",
    "YET YSA Z ZARF ZARN ZKLF ZKLN",
)
_SERIES = frozenset(" ".join(_LISTED).split()) - {"S", "F", "W"}
"""Letters that begin a series of bearings, seals, sleeves, housings, linear or plain bearings whose
digits mean something else than a metric bearing's. From memory; the more the better, for a number
that is kept unread does no harm."""


def begins_a_series(letters: str) -> bool:
    """Whether ``letters`` (upper case) begin the numbers of a series, and are so no one's name."""
    return letters in _SERIES


_SURE_TAIL = re.compile(
    r"[\s\-_/]*(?:2?(?:RS|RZ|Z)|ZZ|LL[UB]|DDU|VV)(?![A-Z]*\d{3})|.*[\s\-/]C[2-5]\b"
)
"""A closure or a clearance behind the number shows that it is a ball bearing's."""


def may_be_left_out(letters: str, *, joined: bool, rest: str) -> bool:
    """Whether a number may be read without the ``letters`` before it, which stay unread.

    ``rest`` is what stands behind the number. Letters apart from it may be a name; joined ones
    belong to it, unless they are known or a closure shows a whole number behind them.
    """
    if letters in _HARMLESS:
        return True
    if letters in _SERIES:
        return False
    return not joined or bool(_SURE_TAIL.match(rest))
