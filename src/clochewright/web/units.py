"""In which units a browser wants lengths shown: a cookie of its own, which never touches a plan."""

from __future__ import annotations

from fastapi import Request, Response

from clochewright.measures import Units

COOKIE = "clochewright-units"
_YEAR_S = 365 * 24 * 3600


def units_of(request: Request) -> Units | None:
    """The units asked for by the address, or else by the cookie; None where neither says."""
    for said in (request.query_params.get("units"), request.cookies.get(COOKIE)):
        if said == "inch":
            return "inch"
        if said == "mm":
            return "mm"
    return None


def keep_units(response: Response, units: Units) -> None:
    """Have the browser remember."""
    response.set_cookie(COOKIE, units, max_age=_YEAR_S, samesite="lax", httponly=True)
