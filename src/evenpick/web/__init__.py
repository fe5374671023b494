"""The garden in a browser: pages that read and write without scripts, and the same answers as JSON.

The only room that knows the web framework. Thin: a question goes to service/, the answer through report/.
"""
