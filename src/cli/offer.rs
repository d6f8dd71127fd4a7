//! `offer`: the most to pay for a piece not yet bought.

use super::args::OfferArgs;
use super::figures::{json_hours, json_money, money};
use super::opened::Known;
use super::{Screen, Status, typed};
use crate::model::{Currency, Hours, counted, grouped};
use crate::reckon::offer::{Known as Figure, Offer, OfferAsk, offer as most_to_pay};
use rust_decimal::Decimal;
use serde_json::{Value, json};

/// Shows the most to pay, and what it was reckoned from.
pub fn offer(args: &OfferArgs, known: &Known, screen: &mut Screen) -> Status {
    let ask = match ask(args, known) {
        Ok(ask) => ask,
        Err(words) => {
            screen.complain(&words);
            return Status::Usage;
        }
    };
    let offer = most_to_pay(&known.shop, &known.reckoned, &ask);
    let currency = &known.shop.currency;
    if args.json {
        screen.data(&format!("{:#}\n", json_of(&offer, currency)));
    } else {
        screen.data(&words(&offer, currency));
    }
    match &offer.most {
        Ok(_) => Status::Done,
        Err(words) => {
            screen.complain(&format!("{words}\n"));
            Status::Usage
        }
    }
}

fn ask(args: &OfferArgs, known: &Known) -> Result<OfferAsk, String> {
    let shop = &known.shop;
    Ok(OfferAsk {
        expect: typed::amount("expect", args.expect.as_deref(), shop)?,
        kind: args.kind.clone(),
        hours: typed::hours("hours", args.hours.as_deref())?,
        costs: typed::amount("costs", args.costs.as_deref(), shop)?,
        channel: typed::channel(args.channel.as_deref(), shop)?,
        rate: typed::amount("hourly", args.hourly.as_deref(), shop)?,
    })
}

fn words(offer: &Offer, currency: &Currency) -> String {
    let as_money = |amount: Decimal| grouped(amount, currency.decimals);
    let as_hours = |minutes| grouped(Hours::from_minutes(minutes).decimal(2), 2);
    let mut text = String::new();
    text += &line("expected price", offer.price, as_money);
    text += &line("expected costs", offer.costs, as_money);
    text += &line("expected hours", offer.minutes, as_hours);
    text += &format!("{:<16}{:>12}\n", "an hour earns", money(offer.rate, currency));
    if let Some(channel) = &offer.channel {
        let left = money(offer.proceeds, currency);
        text +=
            &format!("{:<16}{left:>12}  after the fee and delivery of {channel}\n", "price leaves");
    }
    match &offer.most {
        Ok(most) if most.is_sign_negative() || most.is_zero() => {
            text + "at these figures it is not worth buying at any price\n"
        }
        Ok(most) => text + &format!("{:<16}{:>12}\n", "pay at most", as_money(*most)),
        Err(_) => text,
    }
}

fn line(label: &str, figure: Figure, print: impl Fn(Decimal) -> String) -> String {
    match figure {
        Figure::Stated(value) => format!("{label:<16}{:>12}\n", print(value)),
        Figure::Past(spread) => format!(
            "{label:<16}{:>12}  median of {}; half lie between {} and {}\n",
            print(spread.median),
            counted(spread.pieces, "piece of yours", "pieces of yours"),
            print(spread.lower),
            print(spread.upper),
        ),
        Figure::Unknown => format!("{label:<16}{:>12}\n", super::figures::DASH),
    }
}

fn json_of(offer: &Offer, currency: &Currency) -> Value {
    let figure = |figure: Figure, print: &dyn Fn(Decimal) -> Value| match figure {
        Figure::Stated(value) => json!({ "value": print(value), "pieces": null }),
        Figure::Past(spread) => json!({
            "value": print(spread.median),
            "lower": print(spread.lower),
            "upper": print(spread.upper),
            "pieces": spread.pieces,
        }),
        Figure::Unknown => Value::Null,
    };
    let as_money = |amount: Decimal| json_money(amount, currency);
    json!({
        "price": figure(offer.price, &as_money),
        "costs": figure(offer.costs, &as_money),
        "hours": figure(offer.minutes, &|minutes| json_hours(Hours::from_minutes(minutes))),
        "rate": json_money(offer.rate, currency),
        "channel": offer.channel,
        "proceeds": json_money(offer.proceeds, currency),
        "most": json_money(offer.most.as_ref().ok().copied(), currency),
    })
}
