"""Pages travel compressed; files that are kept or gone on with travel as they are."""

from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.middleware.gzip import GZipMiddleware


class CompressedPages(GZipMiddleware):
    """Compresses HTML for browsers that take it. A secret in a page is not found out by its length.

    Django's own middleware lengthens each reply at random, and the form tokens are masked anew in each. It would also
    compress downloads, whose pieces are asked for by their place in the file.
    """

    def process_response(self, request: HttpRequest, response: HttpResponseBase) -> HttpResponseBase:
        if response.streaming or not response.get("Content-Type", "").startswith("text/html"):
            return response
        return super().process_response(request, response)
