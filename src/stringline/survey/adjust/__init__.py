"""The network and its least-squares adjustment."""
